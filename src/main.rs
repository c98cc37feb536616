//! The program: everything is in the library, where it can be tested.

#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    wallplate::cli::run()
}
