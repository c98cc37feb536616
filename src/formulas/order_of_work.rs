//! What tasks say of each other.

use super::body::Formula;
use super::tables::table;
use crate::calc::FormulaError;

include!(concat!(env!("OUT_DIR"), "/formulas_order_of_work.rs"));

impl Formula for Done {
    fn answer(self) -> Result<table::Done, FormulaError> {
        Ok(table::Done { task: self.task, of: self.of.map(|of| of.ids()), wait: self.wait.unwrap_or_default() })
    }
}
