//! The rule files, embedded.

/// Every rule file, in the order in which it is read.
pub(super) const RULE_FILES: &[(&str, &str)] = &[(
    "us-consumer/thaw.toml",
    include_str!("../../rules/us-consumer/thaw.toml"),
)];
