#![doc = include_str!("../README.md")]
#![forbid(unsafe_code)]

pub mod altitude;
pub mod batch;
pub mod bird;
pub mod brine;
pub mod compare;
pub mod direct;
pub mod doneness;
pub mod gravy;
pub mod growth;
pub mod heat;
pub mod leftovers;
pub mod lethality;
pub mod log;
pub mod messages;
pub mod plan;
pub mod prepare;
pub mod purchase;
pub mod records;
pub mod roast;
pub mod rules;
pub mod serve;
pub mod stock;
pub mod storage;
pub mod thaw;
pub mod units;

mod answer;
mod error;
mod evaluate;
mod math;
mod reader;
mod schema;

pub use answer::{Answer, Finding, FindingKind, TimeEstimate};
pub use error::{Error, ErrorKind};
pub use evaluate::{
    KINDS, LARGEST_REQUEST, REQUEST_SCHEMA, RESPONSE_SCHEMA, Request, Response, evaluate,
    evaluate_json, evaluate_json_with, evaluate_value, evaluate_with, take_house_rules,
};
