//! Wraps Tera: escaping on for every template, our filters, and errors with template name and line.

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt;
use std::io::{self, Write};

use serde::Serialize;
use tera::{Context, Delimiters, ErrorKind, Kwargs, State, Tera, Value};

use super::escape::{caption, code_span, markdown_text, slug, target};
use super::inline::{inline_markdown, linked_markdown};

/// The name that errors of [`Engine::render_line`] carry.
const SMALL_TEXT: &str = "small text";
/// Longest blank, in underscores; more would not fit a page.
const LONGEST_BLANK: i64 = 80;

/// A set of templates, parsed and checked, ready to render.
#[derive(Debug)]
pub struct Engine {
    tera: Tera,
}

/// What went wrong while loading or rendering a template.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RenderError {
    /// Template name; empty when not known.
    pub template: String,
    /// Line in the template, from 1; `None` when not known.
    pub line: Option<usize>,
    /// What is wrong, in one or more lines.
    pub message: String,
}

impl fmt::Display for RenderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.template.is_empty() {
            write!(f, "{}:", self.template)?;
            if let Some(line) = self.line {
                write!(f, "{line}:")?;
            }
            write!(f, " ")?;
        }
        write!(f, "{}", self.message)
    }
}

impl Error for RenderError {}

impl Engine {
    /// Loads templates given as (name, text). References between them may be in any order.
    ///
    /// # Errors
    /// The first syntax error, unknown filter, missing include or component.
    pub fn new(templates: &[(&str, &str)]) -> Result<Self, RenderError> {
        let mut tera = Tera::default();
        // `{#id}` is the identifier of a heading in Markdown, so comments are written `{* … *}`.
        tera.set_delimiters(Delimiters {
            comment_start: "{*".into(),
            comment_end: "*}".into(),
            ..Delimiters::default()
        })
        .map_err(|e| convert(&e, ""))?;
        tera.set_escape_fn(escape_into);
        // Every name ends with the empty text: escaping is on for all templates.
        tera.autoescape_on([""]);
        register_filters(&mut tera);
        tera.add_raw_templates(templates.iter().copied()).map_err(|e| convert(&e, ""))?;
        Ok(Self { tera })
    }

    /// Renders the template of that name.
    ///
    /// # Errors
    /// Unknown template, undefined value, wrong type, or a context that is not a map.
    pub fn render(&self, name: &str, context: &impl Serialize) -> Result<String, RenderError> {
        let context = context_of(name, context)?;
        self.tera.render(name, &context).map_err(|e| convert(&e, name))
    }

    /// Renders a small text that is itself a template, such as a step with `{{ values }}` in it.
    /// The text is trusted Markdown, the values are escaped.
    ///
    /// # Errors
    /// As [`Engine::render`], with `small text` as the template name.
    pub fn render_line(&self, text: &str, context: &impl Serialize) -> Result<String, RenderError> {
        if !text.contains("{{") && !text.contains("{%") && !text.contains("{*") {
            return Ok(text.to_owned());
        }
        let context = context_of(SMALL_TEXT, context)?;
        self.tera.render_str(text, &context, true).map_err(|e| convert(&e, SMALL_TEXT))
    }

    /// As [`Engine::render_line`], from texts by name. Most small texts only put values in, which needs no template.
    ///
    /// # Errors
    /// As [`Engine::render_line`].
    pub fn fill(&self, text: &str, values: &BTreeMap<&str, &str>) -> Result<String, RenderError> {
        put_in(text, values).map_or_else(|| self.render_line(text, values), Ok)
    }
}

/// The text with its values put in; `None` where it asks for more than `{{ name }}` of names that are there.
fn put_in(text: &str, values: &BTreeMap<&str, &str>) -> Option<String> {
    if text.contains("{%") || text.contains("{*") {
        return None;
    }
    let (mut out, mut rest) = (String::with_capacity(text.len() + 32), text);
    while let Some((before, behind)) = rest.split_once("{{") {
        let (name, after) = behind.split_once("}}")?;
        let name = name.strip_prefix(' ')?.strip_suffix(' ')?;
        out.push_str(before);
        out.push_str(&markdown_text(values.get(name)?));
        rest = after;
    }
    out.push_str(rest);
    Some(out)
}

fn context_of(name: &str, value: &impl Serialize) -> Result<Context, RenderError> {
    Context::from_serialize(value).map_err(|e| convert(&e, name))
}

fn escape_into(input: &str, out: &mut dyn Write) -> io::Result<()> {
    out.write_all(markdown_text(input).as_bytes())
}

fn register_filters(tera: &mut Tera) {
    tera.register_filter("md", |text: &str, _: Kwargs, _: &State| Value::safe_string(&inline_markdown(text)));
    tera.register_filter("linked", |text: &str, _: Kwargs, _: &State| Value::safe_string(&linked_markdown(text)));
    tera.register_filter("code", |text: &str, _: Kwargs, _: &State| Value::safe_string(&code_span(text)));
    tera.register_filter("caption", |text: &str, _: Kwargs, _: &State| Value::safe_string(&caption(text)));
    tera.register_filter("slug", |text: &str, _: Kwargs, _: &State| Value::safe_string(&slug(text)));
    tera.register_filter("target", |text: &str, _: Kwargs, _: &State| Value::safe_string(&target(text)));
    // A fact that is a sentence, inside another one: "Half way, pull the fuse of …".
    tera.register_filter("small", |text: &str, _: Kwargs, _: &State| {
        let mut letters = text.chars();
        letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect::<String>())
    });
    tera.register_filter("blank", |length: i64, _: Kwargs, _: &State| {
        let length = usize::try_from(length.clamp(4, LONGEST_BLANK)).unwrap_or(4);
        Value::safe_string(&"_".repeat(length))
    });
    tera.register_filter("tick", |done: bool, _: Kwargs, _: &State| {
        Value::safe_string(if done { "[x]" } else { "[ ]" })
    });
}

fn convert(error: &tera::Error, name: &str) -> RenderError {
    if let ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report) = error.kind() {
        let file = report.filename();
        return RenderError {
            template: if file.is_empty() || file.starts_with("__tera") { name.to_owned() } else { file.to_owned() },
            line: Some(report.span().start_line),
            message: report.message().to_owned(),
        };
    }
    let mut message = error.to_string();
    let mut source = error.source();
    while let Some(inner) = source {
        message = format!("{message}: {inner}");
        source = inner.source();
    }
    // Some load errors exist only as text; it names template and line itself.
    RenderError { template: name.to_owned(), line: None, message }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view(text: &str) -> BTreeMap<&'static str, String> {
        BTreeMap::from([("x", text.to_owned())])
    }

    #[test]
    fn values_are_escaped_in_every_template() {
        let engine = Engine::new(&[("a.md", "- {{ x }}\n"), ("b", "{{ x }}")]).expect("loads");
        assert_eq!(engine.render("a.md", &view("*a*")).expect("renders"), "- \\*a\\*\n");
        assert_eq!(
            engine.render_line("## {{ x }} {#id}{* no one sees this *}", &view("a")).expect("renders"),
            "## a {#id}"
        );
        assert_eq!(engine.render("b", &view("<b>")).expect("renders"), "\\<b>");
        assert_eq!(engine.render_line("so {{ x }}", &view("{{ 1+1 }}")).expect("renders"), "so \\{\\{ 1+1 \\}\\}");
        assert_eq!(
            engine.render_line("{{ x | upper }} {{ 6 | blank }} {{ true | tick }}", &view("a_")).expect("renders"),
            "A\\_ ______ [x]"
        );
    }

    #[test]
    fn filters_keep_what_they_promise() {
        let engine = Engine::new(&[]).expect("loads");
        assert_eq!(
            engine.render_line("{{ x | md }} {{ x | code }} {{ x | slug }}", &view("**a** b")).expect("renders"),
            "**a** b `**a** b` a-b"
        );
        assert_eq!(engine.render_line("{{ x | small }}", &view("Pull *A* out")).expect("renders"), "pull \\*A\\* out");
    }

    #[test]
    fn a_text_is_filled_as_the_template_would_be() {
        let engine = Engine::new(&[]).expect("loads");
        let values = BTreeMap::from([("a", "x*y* {{ b }}"), ("b", "| 1.")]);
        for text in [
            "",
            "plain",
            "{{ a }}",
            "1. {{ b }} and {{ a }}{{ b }}.",
            "{{a}} {{ b | upper }}",
            "{% if a %}{{ b }}{% endif %}",
        ] {
            assert_eq!(engine.fill(text, &values), engine.render_line(text, &values), "{text}");
        }
        for text in ["{{ c }}", "{{ a", "{{ a }} {{"] {
            assert!(engine.fill(text, &values).is_err(), "{text}");
        }
    }

    #[test]
    fn errors_name_template_and_line() {
        let engine = Engine::new(&[("a.md", "one\n{{ nosuch }}\n")]).expect("loads");
        let error = engine.render("a.md", &view("")).expect_err("undefined");
        assert_eq!((error.template.as_str(), error.line), ("a.md", Some(2)));
        assert!(error.message.contains("nosuch"), "{error}");
        let error = Engine::new(&[("b.md", "{{ x | nofilter }}")]).expect_err("unknown filter");
        assert!(error.to_string().contains("b.md"), "{error}");
    }
}
