//! The tables that formulas give, and the words that they take and give: written by the build of their declarations.

include!(concat!(env!("OUT_DIR"), "/formulas_tables.rs"));
