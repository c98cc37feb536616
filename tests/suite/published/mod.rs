//! Formulas against what standards, handbooks and independent libraries print.

mod clearance;
mod concrete;
mod drive;
mod gear;
mod holddown;
mod moisture;
mod motion;
mod network;
mod pier;
mod power;
mod rolling;
mod seal;
mod sensing;
mod sky;
mod stopping;
mod tolerance;
mod units;
mod vee;
mod wind;
