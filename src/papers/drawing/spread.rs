//! Things in a row, pushed apart so that none lies over its neighbour.

/// Places of things in a row, in their order, as near to where they are wished as their sizes allow.
pub fn apart(wishes: &[f64], sizes: &[f64]) -> Vec<f64> {
    // Neighbours that are too near become one block about the middle of their wishes.
    struct Block {
        /// Sum over its members of wish less place within the block, and how many.
        sum: f64,
        count: f64,
        members: usize,
        length: f64,
        first_half: f64,
    }
    impl Block {
        /// Where its first member's near side lies.
        fn start(&self) -> f64 {
            self.sum / self.count - self.first_half
        }
    }
    let mut blocks: Vec<Block> = Vec::new();
    for (wish, size) in wishes.iter().zip(sizes) {
        blocks.push(Block { sum: *wish, count: 1.0, members: 1, length: *size, first_half: size / 2.0 });
        while let [.., before, last] = blocks.as_slice() {
            if last.start() >= before.start() + before.length - 1e-9 {
                break;
            }
            // The last block's members lie farther along by the length of the one before.
            let further = before.length + last.first_half - before.first_half;
            let joined = Block {
                sum: before.sum + last.sum - last.count * further,
                count: before.count + last.count,
                members: before.members + last.members,
                length: before.length + last.length,
                first_half: before.first_half,
            };
            blocks.truncate(blocks.len() - 2);
            blocks.push(joined);
        }
    }
    let mut places = Vec::with_capacity(wishes.len());
    let mut sizes = sizes.iter();
    for block in &blocks {
        let mut at = block.start();
        for size in sizes.by_ref().take(block.members) {
            places.push(at + size / 2.0);
            at += size;
        }
    }
    places
}
