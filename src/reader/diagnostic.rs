//! What is wrong with a file, told so that a grower can mend it: the place, the line with a
//! marker, what is wrong and what would be right.

use std::fmt;

use annotate_snippets::{AnnotationKind, Level, Origin, Renderer, Snippet};

/// A place in a file. Lines and columns count from 1, columns in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// The line.
    pub line: usize,
    /// The column of the first marked character.
    pub column: usize,
    /// How many characters are marked; at least one.
    pub width: usize,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Diagnostic {
    /// The file's name, as the grower gave it or relative to the garden file.
    pub file: String,
    /// Where in it; absent where the file as a whole is at fault.
    pub position: Option<Position>,
    /// What is wrong, in one sentence.
    pub message: String,
    /// A few words under the marker; may be empty.
    pub label: String,
    /// What would be right; may be empty.
    pub help: String,
    /// The line of the file that the position names.
    excerpt: String,
}

impl Diagnostic {
    /// A fault of a file as a whole.
    pub(crate) fn for_file(
        file: &str,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self {
            file: file.to_owned(),
            position: None,
            message: message.into(),
            label: String::new(),
            help: help.into(),
            excerpt: String::new(),
        }
    }

    /// The same fault at a place in the file's text.
    pub(crate) fn at(mut self, position: Position, text: &str) -> Self {
        let line = text.lines().nth(position.line - 1).unwrap_or_default();
        line.clone_into(&mut self.excerpt);
        self.position = Some(position);
        self
    }

    /// The same fault with words under its marker.
    pub(crate) fn with_label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// The bytes of the excerpt that are marked.
    fn marked_bytes(&self, position: Position) -> std::ops::Range<usize> {
        let byte_of = |column: usize| {
            self.excerpt
                .char_indices()
                .nth(column)
                .map_or(self.excerpt.len(), |(byte, _)| byte)
        };
        let start = position.column - 1;
        byte_of(start)..byte_of(start + position.width)
    }

    fn render_one(&self, renderer: &Renderer) -> String {
        let mut group =
            Level::ERROR
                .primary_title(self.message.as_str())
                .elements(self.position.map(|position| {
                    let marker = AnnotationKind::Primary.span(self.marked_bytes(position));
                    let marker = if self.label.is_empty() {
                        marker
                    } else {
                        marker.label(self.label.as_str())
                    };
                    Snippet::source(self.excerpt.as_str())
                        .line_start(position.line)
                        .path(self.file.as_str())
                        .annotation(marker)
                }));
        if self.position.is_none() {
            group = group.element(Origin::path(self.file.as_str()));
        }
        if !self.help.is_empty() {
            group = group.element(Level::HELP.message(self.help.as_str()));
        }
        renderer.render(&[group])
    }
}

/// Everything that is wrong with a garden as written; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadError {
    diagnostics: Vec<Diagnostic>,
    /// How many more there are than are told.
    omitted: usize,
}

impl ReadError {
    /// More diagnostics than this help nobody: they mostly follow from one another.
    pub(crate) const MAX_SHOWN: usize = 50;

    /// A refusal for one reason.
    pub(crate) fn single(diagnostic: Diagnostic) -> Self {
        Self {
            diagnostics: vec![diagnostic],
            omitted: 0,
        }
    }

    /// A refusal for several reasons; `None` where there is no reason at all.
    pub(crate) fn from_diagnostics(diagnostics: Vec<Diagnostic>, omitted: usize) -> Option<Self> {
        (!diagnostics.is_empty()).then_some(Self {
            diagnostics,
            omitted,
        })
    }

    /// All reasons of this and of the other.
    pub(crate) fn merge(mut self, other: Self) -> Self {
        self.diagnostics.extend(other.diagnostics);
        self.omitted += other.omitted;
        self
    }

    /// What is wrong, in the order of the file.
    #[must_use]
    pub fn diagnostics(&self) -> &[Diagnostic] {
        &self.diagnostics
    }

    /// The text to show, with or without colour.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour {
            Renderer::styled()
        } else {
            Renderer::plain()
        };
        let mut parts: Vec<String> = self
            .diagnostics
            .iter()
            .map(|d| d.render_one(&renderer))
            .collect();
        match self.omitted {
            0 => {}
            1 => parts.push("There is 1 more fault; mend these first.".to_owned()),
            n => parts.push(format!("There are {n} more faults; mend these first.")),
        }
        parts.join("\n\n")
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render(false))
    }
}

impl std::error::Error for ReadError {}
