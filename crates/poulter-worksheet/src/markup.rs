//! Markup in which text from outside cannot become markup.

/// A page under construction. Only a literal of this program can be markup; everything else is escaped.
#[derive(Default)]
pub(crate) struct Markup(String);

impl Markup {
    /// Markup as it stands in the program.
    pub(crate) fn raw(&mut self, markup: &'static str) -> &mut Self {
        self.0.push_str(markup);
        self
    }

    /// Text, or the inside of a quoted attribute.
    pub(crate) fn text(&mut self, text: &str) -> &mut Self {
        for c in text.chars() {
            match c {
                '&' => self.0.push_str("&amp;"),
                '<' => self.0.push_str("&lt;"),
                '>' => self.0.push_str("&gt;"),
                '"' => self.0.push_str("&quot;"),
                '\'' => self.0.push_str("&#39;"),
                _ => self.0.push(c),
            }
        }
        self
    }

    /// A whole number.
    pub(crate) fn count(&mut self, number: usize) -> &mut Self {
        self.text(&number.to_string())
    }

    /// A coordinate or length of a drawing.
    pub(crate) fn length(&mut self, number: f64) -> &mut Self {
        self.text(&format!("{number:.1}"))
    }

    pub(crate) fn finish(self) -> String {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_stays_text() {
        let mut page = Markup::default();
        page.raw("<p title=\"")
            .text("\"'")
            .raw("\">")
            .text("<script>&")
            .raw("</p>");
        assert_eq!(
            page.finish(),
            "<p title=\"&quot;&#39;\">&lt;script&gt;&amp;</p>"
        );
    }
}
