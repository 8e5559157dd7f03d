//! One value of the document → a typed value, by its declaration.

pub(super) use super::field::Field;
use super::limits::{LARGEST_COUNT, LONGEST_PROSE, LONGEST_TEXT, YEARS};
use super::suggest::{listed, nearest};
use super::tree::{Item, Node, from_value};
use super::{parts, quantity, rows};
use crate::diag::{Finding, visible};
#[cfg(test)]
use crate::fields::Declarations;
use crate::fields::{FieldType, Value};
use crate::letters::{is_joiner, is_none, is_steering};
#[cfg(test)]
use crate::source::SourceFile;
use crate::source::{Span, Spanned};
use crate::units::{Dimension, Quantity};
use jiff::civil::Date;

impl Field<'_> {
    /// Reads the value; where that fails the faults are in `faults`.
    pub(super) fn read(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        let before = faults.len();
        let value = self.typed(item, faults)?;
        quantity::check_bounds(self, item.span, &value, faults);
        (faults.len() == before).then_some(value)
    }

    fn typed(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        match self.decl.ty {
            FieldType::Quantity(dimension) => {
                let bound = self.decl.bound;
                quantity::read(self, item, dimension, faults).map(|q| Value::Quantity(q.value.held_to(bound)))
            }
            FieldType::Lengths3 => self.lengths(item, 3, faults).map(Value::Quantities),
            FieldType::Lengths2 => self.lengths(item, 2, faults).map(Value::Quantities),
            FieldType::Points => self.points(item, faults),
            FieldType::Text | FieldType::Switch => self.text(item, faults).map(Value::Text),
            FieldType::Prose => self.text(item, faults).map(Value::Prose),
            FieldType::Flag => self.flag(item, faults),
            FieldType::Count => self.count(item, faults),
            FieldType::Choice => self.choice(item, faults),
            FieldType::Date => self.date(item, faults),
            FieldType::MonthDay => self.month_day(item, faults),
            FieldType::Component => self.ids(item, false, faults).map(Value::Components),
            FieldType::Components => self.ids(item, true, faults).map(Value::Components),
            FieldType::Place => self.ids(item, false, faults).map(Value::Places),
            FieldType::Places => self.ids(item, true, faults).map(Value::Places),
            FieldType::Texts => self.texts(item, faults).map(Value::Texts),
            FieldType::Conductor => quantity::conductor(self, item, faults).map(Value::Conductor),
            FieldType::Price => quantity::price(self, item, faults),
            FieldType::Rows(of) => rows::read(self, of, item, faults).map(Value::Rows),
            FieldType::ChoiceByField => self.choice_by_field(item, faults),
            FieldType::Parts => parts::read(self, item, faults).map(Value::Parts),
        }
    }

    /// A declared default, minimum or maximum, standing at `span`.
    pub(super) fn declared(&self, value: &toml::Value, span: Span) -> Option<Value> {
        let item = from_value(value, span);
        self.typed(&item, &mut Vec::new())
    }

    fn text(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<String> {
        match &item.node {
            Node::Text(text) => self.checked_text(text, item.span, faults),
            Node::Integer(_) | Node::Float(_) | Node::Datetime(_) => {
                let raw = self.file.slice(item.span);
                faults.push(self.wrong_type(item).help("put it in quotes").fix(item.span, format!("\"{raw}\"")));
                None
            }
            _ => {
                faults.push(self.wrong_type(item));
                None
            }
        }
    }

    /// A text without control characters and not too long; line ends become `\n`.
    pub(super) fn checked_text(&self, text: &str, span: Span, faults: &mut Vec<Finding>) -> Option<String> {
        let text = text.replace("\r\n", "\n");
        let length = text.chars().count();
        let prose = self.decl.ty == FieldType::Prose;
        let most = if prose { LONGEST_PROSE } else { LONGEST_TEXT };
        if length > most {
            let fault = format!("has {length} characters; {most} are allowed");
            let finding = self.error("text-too-long", &fault, span, "too long");
            let help = if prose {
                "put long texts into a sheet of their own beside the binder"
            } else {
                "shorten it; what is long goes into a `note`"
            };
            faults.push(finding.help(help));
            return None;
        }
        if let Some(bad) = text.chars().find(|c| is_forbidden(*c)) {
            let what = match bad {
                bad if bad.is_control() => "the control character",
                bad if is_steering(bad) => "a character that cannot be seen,",
                _ => "a code of no letter,",
            };
            let code = if bad.is_control() { visible(&bad.to_string()).into_owned() } else { code_of(bad) };
            let finding = self.error("control-character", &format!("holds {what} {code}"), span, "in this text");
            faults.push(finding.help(if is_steering(bad) {
                "delete it; only tab and line end may stand in a text"
            } else {
                "delete it: it shows as something else on every machine, or as nothing"
            }));
            return None;
        }
        Some(text)
    }

    fn flag(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        if let Node::Flag(flag) = item.node {
            return Some(Value::Flag(flag));
        }
        let mut finding = self.wrong_type(item);
        if let Node::Text(text) = &item.node {
            match text.to_lowercase().as_str() {
                "true" | "yes" | "on" => finding = finding.fix(item.span, "true"),
                "false" | "no" | "off" => finding = finding.fix(item.span, "false"),
                _ => {}
            }
        }
        faults.push(finding);
        None
    }

    fn count(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        let finding = match &item.node {
            Node::Integer(Some(n)) if (-LARGEST_COUNT..=LARGEST_COUNT).contains(n) => return Some(Value::Count(*n)),
            Node::Integer(_) => self
                .error("out-of-bounds", "is too large for anything on a van", item.span, "too large")
                .help(format!("give {}; look for a digit too many", self.expects())),
            Node::Text(text) if text.trim().parse::<i64>().is_ok() => {
                self.wrong_type(item).help("write it without quotes").fix(item.span, text.trim())
            }
            Node::Float(n) if n.fract() == 0.0 && n.abs() < 1e6 => {
                self.wrong_type(item).fix(item.span, format!("{n:.0}"))
            }
            _ => self.wrong_type(item),
        };
        faults.push(finding);
        None
    }

    fn choice(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        let Node::Text(word) = &item.node else {
            faults.push(self.wrong_type(item));
            return None;
        };
        self.is_choice(word, item.span, faults).then(|| Value::Choice(word.clone()))
    }

    fn choice_by_field(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        let Node::Table(table) = &item.node else {
            faults.push(self.wrong_type(item));
            return None;
        };
        let before = faults.len();
        let mut words = Vec::new();
        for (name, (key, item)) in &table.entries {
            match &item.node {
                Node::Text(word) if self.is_choice(word, item.span, faults) => {
                    words.push((Spanned::new(name.clone(), *key), Spanned::new(word.clone(), item.span)));
                }
                Node::Text(_) => {}
                _ => faults.push(self.wrong_type(item)),
            }
        }
        (faults.len() == before).then_some(Value::Choices(words))
    }

    /// Whether a word is one of the choices; a finding where it isn't.
    fn is_choice(&self, word: &str, span: Span, faults: &mut Vec<Finding>) -> bool {
        if self.decl.choices.iter().any(|choice| choice == word) {
            return true;
        }
        let known = || self.decl.choices.iter().map(String::as_str);
        let finding = self.error("unknown-choice", &format!("cannot be \"{word}\""), span, "not one of the choices");
        let finding = finding.help(format!("choose from {}", listed(known(), 20)));
        faults.push(match nearest(word, known()) {
            Some(near) => finding.fix(span, format!("\"{near}\"")),
            None => finding,
        });
        false
    }

    fn date(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        let finding = match &item.node {
            Node::Datetime(when) => match (when.date, when.time) {
                (Some(date), None) => {
                    if let Some(date) = civil(i64::from(date.year), date.month, date.day) {
                        return Some(Value::Date(date));
                    }
                    let fault = format!("is no date between {} and {}", YEARS.start(), YEARS.end());
                    self.error("date-invalid", &fault, item.span, "no such date")
                }
                _ => self.error("date-invalid", "takes a date without a time", item.span, "has a time"),
            },
            Node::Text(text) => {
                let finding = self.error("date-invalid", "is a text, not a date", item.span, "text");
                match text.trim().parse::<Date>() {
                    Ok(date) => finding.fix(item.span, date.to_string()),
                    Err(_) => finding,
                }
            }
            _ => self.wrong_type(item),
        };
        faults.push(finding.help("write it as 2027-05-14, without quotes"));
        None
    }

    fn month_day(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        let Node::Text(text) = &item.node else {
            faults.push(self.wrong_type(item));
            return None;
        };
        let number = |t: &str| (t.len() == 2 && t.bytes().all(|b| b.is_ascii_digit())).then(|| t.parse::<u8>().ok())?;
        let parts = text.split_once('-').and_then(|(m, d)| Some((number(m)?, number(d)?)));
        // 2024 has a 29 February.
        if parts.is_some_and(|(month, day)| civil(2024, month, day).is_some()) {
            return Some(Value::Text(text.clone()));
        }
        let finding = self.error("date-invalid", &format!("is \"{text}\", no day of a year"), item.span, "no such day");
        faults.push(finding.help("write month and day as \"10-15\""));
        None
    }

    fn ids(&self, item: &Item, many: bool, faults: &mut Vec<Finding>) -> Option<Vec<Spanned<String>>> {
        match &item.node {
            Node::Text(id) => Some(vec![Spanned::new(id.clone(), item.span)]),
            Node::List(list) if many || list.len() == 1 => self.each_text(list, faults),
            _ => {
                faults.push(self.wrong_type(item));
                None
            }
        }
    }

    fn texts(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Vec<Spanned<String>>> {
        match &item.node {
            Node::List(list) => self.each_text(list, faults),
            Node::Text(_) => {
                let raw = self.file.slice(item.span);
                faults.push(self.wrong_type(item).fix(item.span, format!("[{raw}]")));
                None
            }
            _ => {
                faults.push(self.wrong_type(item));
                None
            }
        }
    }

    fn each_text(&self, list: &[Item], faults: &mut Vec<Finding>) -> Option<Vec<Spanned<String>>> {
        let before = faults.len();
        let read = |item: &Item| Some(Spanned::new(self.text(item, faults)?, item.span));
        let texts: Vec<_> = list.iter().filter_map(read).collect();
        (faults.len() == before).then_some(texts)
    }

    fn lengths(&self, item: &Item, wanted: usize, faults: &mut Vec<Finding>) -> Option<Vec<Spanned<Quantity>>> {
        let Node::List(list) = &item.node else {
            faults.push(self.wrong_type(item));
            return None;
        };
        let read: Vec<_> = list.iter().filter_map(|i| quantity::read(self, i, Dimension::Length, faults)).collect();
        if list.len() != wanted {
            let word = if wanted == 2 { "two" } else { "three" };
            let fault = format!("has {} lengths; it takes {word}", list.len());
            let label = format!("{word} lengths");
            faults.push(self.error("wrong-type", &fault, item.span, &label).help(format!("give {}", self.expects())));
            return None;
        }
        (read.len() == wanted).then_some(read)
    }

    fn points(&self, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
        let Node::List(list) = &item.node else {
            faults.push(self.wrong_type(item));
            return None;
        };
        let point = |item: &Item| {
            let three = self.lengths(item, 3, faults)?;
            Some(Spanned::new(three.into_iter().map(|length| length.value).collect(), item.span))
        };
        let points: Vec<_> = list.iter().filter_map(point).collect();
        (points.len() == list.len()).then_some(Value::Points(points))
    }
}

/// What does not hold in declarations: defaults or bounds that their own type refuses, choices that are missing.
///
/// For tests of the files under `templates/`.
#[must_use]
#[cfg(test)]
pub(crate) fn template_faults(decls: &Declarations) -> Vec<String> {
    let (mut out, file) = (Vec::new(), &SourceFile::default());
    for (name, decl) in decls {
        let field = Field { file, owner: "declaration", subject: None, name, decl };
        let given = [("default", &decl.default), ("min", &decl.min), ("max", &decl.max)];
        for (what, value) in given.into_iter().filter_map(|(what, value)| Some((what, value.as_ref()?))) {
            let mut faults = Vec::new();
            let item = from_value(value, Span::default());
            let read = if what == "default" { field.read(&item, &mut faults) } else { field.typed(&item, &mut faults) };
            if read.is_none() {
                out.push(format!(
                    "{name}: {what} {value} does not fit: {}",
                    faults.first().map_or("", |f| &f.headline)
                ));
            }
        }
        if matches!(decl.ty, FieldType::Choice | FieldType::ChoiceByField) == decl.choices.is_empty() {
            out.push(format!("{name}: choices and type do not go together"));
        }
        if decl.required && decl.default.is_some() {
            out.push(format!("{name}: required, and has a default"));
        }
        out.extend(template_faults(&decl.has).into_iter().map(|fault| format!("{name}.{fault}")));
    }
    out
}

/// `U+202E`: what cannot be seen is told by its number.
fn code_of(c: char) -> String {
    format!("U+{:04X}", u32::from(c))
}

/// A date of a year a van may see.
fn civil(year: i64, month: u8, day: u8) -> Option<Date> {
    let year = i16::try_from(year).ok().filter(|y| YEARS.contains(y))?;
    Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()
}

/// Characters that no text may hold: what steers it or hides in it, but for tab, line end and joiners, and codes of no
/// letter.
fn is_forbidden(c: char) -> bool {
    is_steering(c) && !matches!(c, '\n' | '\t') && !is_joiner(c) || is_none(c)
}
