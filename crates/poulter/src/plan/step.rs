//! A step while it is being written.

use crate::answer::{Basis, TimeEstimate};
use crate::rules::{Stage, Topic};

use super::model::ModelTime;
use super::types::{Record, Repeat, Resource, Step, Window};

/// Collects what a step says; the same sentence or rule never stands twice.
pub(super) struct Draft(Step);

impl Draft {
    pub(super) fn new(
        id: &str,
        stage: Stage,
        title: String,
        window: Window,
        duration: TimeEstimate,
    ) -> Self {
        Self(Step {
            id: id.to_owned(),
            stage,
            title,
            bird: None,
            by: None,
            window,
            duration,
            model: None,
            hands_on: None,
            slack: None,
            governs: false,
            occupies: Vec::new(),
            uses: Vec::new(),
            to_do: Vec::new(),
            repeat: None,
            record: Vec::new(),
            rules: Vec::new(),
        })
    }

    pub(super) fn occupies(&mut self, resources: &[Resource]) {
        self.0.occupies.extend(resources);
    }

    /// Notes the model's time, with the printed one beside it in words.
    pub(super) fn model(&mut self, model: Option<ModelTime>) {
        if let Some(model) = model {
            self.say(&model.words());
        }
        self.0.model = model;
    }

    pub(super) fn say(&mut self, text: &str) {
        if !self.0.to_do.iter().any(|known| known == text) {
            self.0.to_do.push(text.to_owned());
        }
    }

    pub(super) fn rules(&mut self, ids: &[String]) {
        for id in ids {
            if !self.0.rules.contains(id) {
                self.0.rules.push(id.clone());
            }
        }
    }

    /// Takes over what the rules of these topics say; a topic without a rule says nothing.
    pub(super) fn follow(&mut self, basis: &mut Basis<'_>, topics: &[Topic]) {
        for &topic in topics {
            if let Some(rule) = basis.find(topic) {
                self.rules(std::slice::from_ref(&rule.id));
                if let Some(text) = rule.said() {
                    self.say(&text);
                }
            }
        }
    }

    pub(super) fn repeat(&mut self, repeat: Repeat) {
        self.0.repeat = Some(repeat);
    }

    pub(super) fn check(&mut self, record: Record) {
        self.0.rules.extend(
            record
                .rule
                .iter()
                .filter(|id| !self.0.rules.contains(id))
                .cloned()
                .collect::<Vec<_>>(),
        );
        self.0.record.push(record);
    }

    pub(super) fn done(self) -> Step {
        self.0
    }
}
