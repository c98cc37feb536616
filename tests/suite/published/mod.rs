//! Formulas against what standards, handbooks and independent libraries print.

mod beam;
mod clearance;
mod column;
mod concrete;
mod drive;
mod fastener;
mod footing;
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
mod snow;
mod steel;
mod stopping;
mod timber;
mod tolerance;
mod units;
mod vee;
mod wind;
