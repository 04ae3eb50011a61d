//! One dated plan, worked back from the serving time.

mod after;
mod amounts;
mod asked;
mod chain;
mod chance;
mod change;
mod class;
mod combination;
mod cooler;
mod criteria;
mod fill;
mod findings;
mod hands;
mod hours;
mod in_oven;
mod joint;
mod kitchen;
mod model;
mod moment;
mod news;
mod order;
mod outset;
mod ovens;
mod planner;
mod progress;
mod ranking;
mod raw;
mod reach;
mod read;
mod setup;
mod shopping;
mod slack;
mod standing;
mod step;
mod steps;
mod stretch;
mod types;
mod uses;

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
