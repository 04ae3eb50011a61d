//! One dated plan, worked back from the serving time.

mod after;
mod amounts;
mod chain;
mod change;
mod findings;
mod kitchen;
mod model;
mod moment;
mod order;
mod planner;
mod progress;
mod read;
mod shopping;
mod step;
mod steps;
mod types;

pub use kitchen::{Block, Class, Cook, Cooler, DayRoom, Kitchen, KitchenOven, Sleep};
pub use model::ModelTime;
pub use moment::Moment;
pub use order::{Bird, Dish, GuestGroup, Guests, MealKit, Methods, Order, Weights};
pub use planner::plan;
pub use progress::{Doing, Progress, StoodOut};
pub use types::{
    Abandoned, Amount, Chain, Change, Criteria, News, OnTime, Performer, Plan, PlannedBird, Record,
    Repeat, Resource, ShoppingItem, Step, Use, Window,
};
