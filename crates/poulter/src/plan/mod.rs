//! One dated plan, worked back from the serving time.

mod moment;
mod order;
mod read;
mod types;

pub use moment::Moment;
pub use order::{Bird, Guests, Kitchen, Methods, Order};
pub use types::{
    Amount, Chain, Change, Criteria, Plan, PlannedBird, Record, Repeat, Resource, ShoppingItem,
    Step, Window,
};
