//! The ways of preparing the bird that were weighed, under their reasons.

use poulter::plan::Chain;
use poulter::thaw::ThawMethod;
use poulter::units::UnitSystem;

use crate::wording::told;
use crate::words::{self, fill};

/// The most ways named under one reason; the rest are counted.
const WAYS_SHOWN: usize = 6;

/// Ways that share a reason.
pub(crate) struct Way {
    pub(crate) names: Vec<String>,
    pub(crate) reason: String,
}

impl Way {
    /// The ways by name, the later ones only counted.
    pub(crate) fn shown(&self) -> String {
        let mut text = self
            .names
            .iter()
            .take(WAYS_SHOWN)
            .cloned()
            .collect::<Vec<_>>()
            .join("; ");
        if self.names.len() > WAYS_SHOWN {
            text += "; ";
            text += &fill(
                "and-more",
                &[("count", &(self.names.len() - WAYS_SHOWN).to_string())],
            );
        }
        text
    }
}

/// The ways under their reasons. Where a reason goes for every way of running the oven, the oven is left out.
pub(crate) fn ways<'c>(chains: impl Iterator<Item = &'c Chain>, units: UnitSystem) -> Vec<Way> {
    let mut groups: Vec<(String, Vec<&Chain>)> = Vec::new();
    for chain in chains {
        let reason = told(&chain.reason, units);
        match groups.iter_mut().find(|group| group.0 == reason) {
            Some((_, chains)) => chains.push(chain),
            None => groups.push((reason, vec![chain])),
        }
    }
    groups
        .into_iter()
        .map(|(reason, chains)| Way {
            names: names(&chains),
            reason,
        })
        .collect()
}

fn names(chains: &[&Chain]) -> Vec<String> {
    let mut names = Vec::new();
    for chain in chains {
        let thaw = chain.thaw.map_or(chain.state.name(), ThawMethod::words);
        let name = format!("{thaw}, {}", words::brine(chain.brine));
        let both_ovens = chains.iter().any(|other| {
            (other.state, other.thaw, other.brine) == (chain.state, chain.thaw, chain.brine)
                && other.roast != chain.roast
        });
        let name = if both_ovens {
            name
        } else {
            format!("{name}, {}", chain.roast.words())
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}
