//! XML 1.0, and the SVG in it, element by element: what a person wrote can stand in a text or in an attribute and never
//! ends it.

use std::fmt::{self, Display, Write};

/// A document, or a part of one, that is being written.
#[derive(Debug, Default)]
pub struct Xml {
    out: String,
}

impl Xml {
    /// A document of its own, with a mark in a comment at its head.
    #[must_use]
    pub fn document(mark: &str) -> Xml {
        let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        out.push_str(&comment(mark));
        Xml { out }
    }

    /// Begins an element; what it holds is said of what comes back.
    pub fn element(&mut self, name: &'static str) -> Element<'_> {
        self.out.push('<');
        self.out.push_str(name);
        Element { xml: self, name }
    }

    /// What was written.
    #[must_use]
    pub fn into_text(self) -> String {
        self.out
    }
}

/// An element whose attributes are being written.
#[must_use = "an element has to be closed"]
pub struct Element<'x> {
    xml: &'x mut Xml,
    name: &'static str,
}

impl Element<'_> {
    /// An attribute.
    pub fn with(self, attribute: &'static str, value: impl Display) -> Self {
        let out = &mut self.xml.out;
        out.push(' ');
        out.push_str(attribute);
        out.push_str("=\"");
        // Into memory: nothing can stand in the way.
        let _ = write!(Escaping(out), "{value}");
        out.push('"');
        self
    }

    /// An attribute where there is something to say.
    pub fn with_some(self, attribute: &'static str, value: Option<impl Display>) -> Self {
        match value {
            Some(value) => self.with(attribute, value),
            None => self,
        }
    }

    /// It holds nothing.
    pub fn empty(self) {
        self.xml.out.push_str("/>\n");
    }

    /// It holds a text.
    pub fn text(self, text: impl Display) {
        let out = &mut self.xml.out;
        out.push('>');
        let _ = write!(Escaping(out), "{text}");
        self.close();
    }

    /// It holds nothing but its name for people, who see it where they point.
    pub fn titled(self, title: impl Display) {
        let out = &mut self.xml.out;
        out.push_str("><title>");
        let _ = write!(Escaping(out), "{title}");
        out.push_str("</title>");
        self.close();
    }

    /// It holds other elements.
    pub fn holding(self, inside: impl FnOnce(&mut Xml)) {
        self.xml.out.push_str(">\n");
        inside(self.xml);
        self.close();
    }

    fn close(self) {
        let out = &mut self.xml.out;
        out.push_str("</");
        out.push_str(self.name);
        out.push_str(">\n");
    }
}

/// A comment on a line of its own. Two hyphens would end it (XML 1.0 §2.5).
pub fn comment(text: &str) -> String {
    format!("<!-- {} -->\n", text.replace("--", "- -"))
}

/// Writes a text so that it is safe in an element and in an attribute (XML 1.0 §2.4); signs that XML does not know (§2.2) are
/// left out.
struct Escaping<'o>(&'o mut String);

impl fmt::Write for Escaping<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for sign in text.chars() {
            match sign {
                '&' => self.0.push_str("&amp;"),
                '<' => self.0.push_str("&lt;"),
                '>' => self.0.push_str("&gt;"),
                '"' => self.0.push_str("&quot;"),
                '\u{FFFE}' | '\u{FFFF}' => {}
                sign if sign < ' ' && !matches!(sign, '\t' | '\n' | '\r') => {}
                sign => self.0.push(sign),
            }
        }
        Ok(())
    }
}
