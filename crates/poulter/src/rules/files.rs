//! The rule files, embedded.

macro_rules! rule_files {
    ($($name:literal),+ $(,)?) => {
        &[$(($name, include_str!(concat!("../../rules/", $name)))),+]
    };
}

/// Every rule file, stage by stage; within one standard and topic the first matching rule answers.
pub(super) const RULE_FILES: &[(&str, &str)] = rule_files![
    "us-consumer/purchase.toml",
    "kitchen-practice/purchase.toml",
    "us-consumer/storage.toml",
    "us-food-code-2022/storage.toml",
    "kitchen-practice/storage.toml",
    "us-consumer/thaw.toml",
    "us-food-code-2022/thaw.toml",
    "kitchen-practice/thaw.toml",
    "us-consumer/brine.toml",
    "kitchen-practice/brine.toml",
    "us-consumer/prepare.toml",
    "us-food-code-2022/prepare.toml",
    "kitchen-practice/prepare.toml",
    "us-consumer/roast.toml",
    "kitchen-practice/roast.toml",
    "us-consumer/methods.toml",
    "us-consumer/doneness.toml",
    "us-food-code-2022/doneness.toml",
    "kitchen-practice/doneness.toml",
    "us-consumer/serve.toml",
    "us-food-code-2022/serve.toml",
    "kitchen-practice/serve.toml",
    "us-consumer/gravy.toml",
    "kitchen-practice/gravy.toml",
    "us-consumer/leftovers.toml",
    "us-food-code-2022/leftovers.toml",
    "us-consumer/people.toml",
];
