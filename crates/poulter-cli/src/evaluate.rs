//! `poulter evaluate`.

use clap::Args;
use serde_json::Value;

use crate::Outcome;
use crate::house::House;
use crate::stream::{self, Refusal};

const EXAMPLE: &str = "\
Example:
  echo '{\"kind\": \"thaw_time\", \"mass\": \"12 lb\", \"method\": \"cold-water\"}' | poulter evaluate";

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Arguments {
    #[command(flatten)]
    house: House,
}

impl Arguments {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        let request = stream::read("-")?;
        let answer = poulter::evaluate_json_with(&*self.house.book()?, &request)?;
        stream::print(&format!("{answer}\n"))?;
        Ok(Outcome::of(is_fine(&answer)))
    }
}

/// Whether an answer of any kind says that all is well: its verdict meets, and it is allowed and feasible, where it
/// says so at all, and a kill or growth asked for is there.
fn is_fine(answer: &str) -> bool {
    let Ok(response) = serde_json::from_str::<Value>(answer) else {
        return false;
    };
    let answer = &response["answer"];
    answer["verdict"]
        .as_str()
        .is_none_or(|verdict| verdict == "meets")
        && answer["allowed"].as_bool().unwrap_or(true)
        && answer["feasible"].as_bool().unwrap_or(true)
        && answer.get("lethality") != Some(&Value::Null)
        && answer.get("growth") != Some(&Value::Null)
}
