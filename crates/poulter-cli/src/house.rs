//! `--house-rules`: rules of the kitchen's own beside those of the standards.

use std::borrow::Cow;

use clap::Args;
use poulter::rules::Rulebook;

use crate::stream::{self, Refusal};

#[derive(Args)]
pub(crate) struct House {
    /// Rules of your own, TOML in the schema of the built-in ones; a looser one is told and never decides
    #[arg(long, value_name = "FILE.toml")]
    house_rules: Option<String>,
}

impl House {
    /// The built-in rules, with those of the file beside them.
    pub(crate) fn book(&self) -> Result<Cow<'static, Rulebook>, Refusal> {
        let Some(file) = &self.house_rules else {
            return Ok(Cow::Borrowed(Rulebook::builtin()));
        };
        let rules = stream::read(file)?;
        let book = Rulebook::builtin().with_rules(&rules);
        Ok(Cow::Owned(book.map_err(|error| error.at("house_rules"))?))
    }
}
