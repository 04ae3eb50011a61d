//! What has been done and measured so far.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::bird::Place;
use crate::brine::BrineMethod;
use crate::thaw::ThawMethod;
use crate::units::{Duration, Temperature};

use super::moment::Moment;

/// A stage of the work on a bird that is begun or ended.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Doing {
    /// Buying it, or taking in a delivery.
    Buy,
    /// Thawing.
    Thaw,
    /// Brining.
    Brine,
    /// Making it ready.
    Prepare,
    /// Roasting; it ends when every place is done.
    Roast,
}

/// One piece of news: something begun, something ended, a reading, or a time spent outside the cold.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Progress {
    /// When it was so.
    pub at: Moment,
    /// The bird by its name in the order; may be left out where there is one line only.
    #[serde(default)]
    pub bird: Option<String>,
    /// What was begun then.
    #[serde(default)]
    pub started: Option<Doing>,
    /// What was over then.
    #[serde(default)]
    pub finished: Option<Doing>,
    /// How it is being thawed; with `started = "thaw"`.
    #[serde(default)]
    pub thaw: Option<ThawMethod>,
    /// How it is being brined; with `started = "brine"`.
    #[serde(default)]
    pub brine: Option<BrineMethod>,
    /// The oven it went into, by its name or its number in the order; with `started = "roast"`. The one of the plan
    /// before the progress when left out.
    #[serde(default)]
    pub oven: Option<String>,
    /// What the thermometer in the bird showed.
    #[serde(default)]
    pub reading: Option<Temperature>,
    /// Where it was; the core when left out.
    #[serde(default)]
    pub place: Option<Place>,
    /// How long the raw bird had been out of the cold.
    #[serde(default)]
    pub stood_out: Option<StoodOut>,
}

/// Time that the raw bird spent out of the cold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StoodOut {
    /// How long; none where nobody knows.
    #[serde(default)]
    pub duration: Option<Duration>,
    /// The air round it, where it was measured.
    #[serde(default)]
    pub surroundings: Option<Temperature>,
}
