fn main() {
    let path = std::env::args().nth(1).unwrap_or_default();
    let text = std::fs::read_to_string(path).unwrap_or_default();
    let t = std::time::Instant::now();
    let (tree, problems) = wallplate::syntax::parse(&text, wallplate::text::FileId(0));
    eprintln!("{} items {:?} {:.1} MB/s", tree.items.len(), t.elapsed(), text.len() as f64 / t.elapsed().as_secs_f64() / 1e6);
    if tree.items.len() < 40 {
        println!("{tree:#?}");
    }
    for p in problems {
        println!("{p:?}");
    }
}
