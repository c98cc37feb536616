//! The parser that pest makes of `grammar/wallplate.pest`.

#[derive(pest_derive::Parser)]
#[grammar = "../grammar/wallplate.pest"]
pub struct Grammar;
