//! The template engine: named Tera templates and small texts become Markdown; every value is escaped.

mod engine;
mod escape;
mod inline;
mod words;

pub use engine::{Engine, RenderError};
pub use escape::{caption, code_span, is_printable, markdown_text, one_line, slug};
pub use inline::{dropped_marks, inline_markdown, linked_markdown};
pub use words::Words;
