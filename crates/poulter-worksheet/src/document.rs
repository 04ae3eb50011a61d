//! A sheet as sections and blocks: each kind composes one, each format writes it.

use crate::wording::Remark;

pub(crate) struct Document {
    /// What kind of sheet it is.
    pub(crate) sort: &'static str,
    pub(crate) title: String,
    pub(crate) facts: Vec<(&'static str, String)>,
    pub(crate) sections: Vec<Section>,
}

pub(crate) struct Section {
    /// A word for links and styles.
    pub(crate) id: &'static str,
    pub(crate) name: &'static str,
    /// Whether it begins a page when printed.
    pub(crate) new_page: bool,
    pub(crate) blocks: Vec<Block>,
}

pub(crate) enum Block {
    Say(String),
    Heading(String),
    List(Vec<String>),
    Numbered(Vec<String>),
    Remarks(Vec<Remark>),
    Table(Table),
    /// The drawing of the days.
    Overview,
    /// The steps; without the blanks where they have a section of their own.
    Steps {
        blanks: bool,
    },
    Cards(Vec<Card>),
    /// The rules and sources.
    Sources,
    /// Lines to sign on.
    Sign(Vec<&'static str>),
}

/// A table.
pub(crate) struct Table {
    /// A word for styles.
    pub(crate) class: &'static str,
    pub(crate) columns: Vec<&'static str>,
    pub(crate) rows: Vec<Vec<String>>,
    /// Whether each row has a box to tick.
    pub(crate) boxes: bool,
}

/// Something to cut out and keep: a label or a recipe card.
pub(crate) struct Card {
    pub(crate) title: String,
    pub(crate) lines: Vec<(&'static str, String)>,
    pub(crate) to_do: Vec<String>,
}

impl Table {
    /// Whether an empty cell is a blank to write in; elsewhere there is nothing to say.
    pub(crate) fn has_blanks(&self) -> bool {
        matches!(self.class, "who" | "record" | "corrective" | "questions")
    }
}

impl Section {
    pub(crate) fn new(id: &'static str, name: &'static str, blocks: Vec<Block>) -> Self {
        Self {
            id,
            name,
            new_page: false,
            blocks,
        }
    }

    pub(crate) fn on_new_page(mut self) -> Self {
        self.new_page = true;
        self
    }

    /// Whether there is anything in it.
    fn is_filled(&self) -> bool {
        self.blocks.iter().any(|block| match block {
            Block::List(texts) | Block::Numbered(texts) => !texts.is_empty(),
            Block::Remarks(remarks) => !remarks.is_empty(),
            Block::Table(table) => !table.rows.is_empty(),
            Block::Cards(cards) => !cards.is_empty(),
            Block::Heading(_) => false,
            _ => true,
        })
    }
}

impl Document {
    /// Adds a section unless it is empty.
    pub(crate) fn add(&mut self, section: Section) {
        if section.is_filled() {
            self.sections.push(section);
        }
    }
}
