//! Parts of the program by themselves, where a run of the whole would hold them only by chance.

mod disk;
mod drawing;
mod editor;
mod lists;
mod numbers;
mod offered;
mod papers;
mod sight;
mod signs;
mod snippet;
mod terminal;
mod text;
mod units_chosen;
