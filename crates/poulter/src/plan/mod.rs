//! One dated plan, worked back from the serving time.

mod after;
mod amounts;
mod chain;
mod change;
mod findings;
mod model;
mod moment;
mod order;
mod planner;
mod read;
mod shopping;
mod step;
mod steps;
mod types;

pub use model::ModelTime;
pub use moment::Moment;
pub use order::{Bird, Guests, Kitchen, Methods, Order};
pub use planner::plan;
pub use types::{
    Amount, Chain, Change, Criteria, Plan, PlannedBird, Record, Repeat, Resource, ShoppingItem,
    Step, Window,
};
