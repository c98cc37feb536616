//! How much of a design is told.

/// How much of a design is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Depth {
    /// What is to be mended; what is missing and assumed is only counted.
    Brief,
    /// What decides the answer; what is assumed and what can hurt besides is only counted.
    Usual,
    /// What holds as well, and each check by itself.
    All,
}
