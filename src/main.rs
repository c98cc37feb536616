//! The program: everything is in the library, where it can be tested.

fn main() -> std::process::ExitCode {
    wallplate::cli::run()
}
