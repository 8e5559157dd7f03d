//! JSON Schema (draft 2020-12) of the spec language, for editors that complete and check TOML.
//!
//! It is made from the same declarations as the reader, so the two cannot differ in fields. Units are held by a
//! pattern; that an id exists and that bounds hold is left to the reader.

use super::earlier::VERSION;
use super::limits::LONGEST_ID;
use super::sections::{Form, Language, Section};
use super::stock::Shelf;
use crate::fields::{Declarations, FieldDecl, FieldType, KindFields};
use crate::units::Dimension;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;

/// The schema of a whole spec, with the items of a shop that its components may take.
#[must_use]
pub fn schema(language: &Language, known: &KindFields, shelf: &Shelf) -> Value {
    let mut properties = Map::new();
    properties.insert("spec".into(), json!({ "const": VERSION, "description": "Version of the spec language." }));
    let mut recorded = Map::new();
    for (name, section) in &language.sections {
        match name.split_once('.') {
            // A part of a section that has fields of its own stands among them.
            Some((whole, part)) => properties
                .get_mut(whole)
                .and_then(|whole| whole.get_mut("properties")?.as_object_mut())
                .unwrap_or(&mut recorded)
                .insert(part.to_owned(), section_schema(part, section)),
            None => properties.insert(name.clone(), section_schema(name, section)),
        };
    }
    properties.insert("component".into(), components(language, known, shelf));
    let recorded = json!({
        "type": "object", "description": "What was recorded on the finished van.",
        "properties": recorded, "additionalProperties": false
    });
    properties.insert("recorded".into(), recorded);
    let required: Vec<&String> = language
        .sections
        .iter()
        .filter(|(_, s)| s.form == Form::Table && has_required(&s.fields))
        .map(|(name, _)| name)
        .collect();
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "rigbinder spec",
        "description": "One camper van build. Quantities are texts with a unit.",
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
        "$defs": definitions(known),
    })
}

fn has_required(fields: &Declarations) -> bool {
    fields.values().any(|f| f.required)
}

fn section_schema(name: &str, section: &Section) -> Value {
    let about = &section.about;
    let tables = |keys: Value| {
        json!({
            "type": "object", "description": about, "propertyNames": keys,
            "additionalProperties": object(&section.fields, true)
        })
    };
    match section.form {
        Form::Table => described(object(&section.fields, true), about),
        Form::List => json!({ "type": "array", "description": about, "items": object(&section.fields, true) }),
        // Keys may be dotted: component.task.
        Form::Tables if ["signed", "taken", "circuits"].contains(&name) => {
            let leaf = object(&section.fields, true);
            json!({
                "type": "object", "description": about,
                "additionalProperties": {
                    "anyOf": [leaf, { "type": "object", "additionalProperties": leaf, "minProperties": 1 }]
                }
            })
        }
        Form::Tables => tables(json!({ "$ref": "#/$defs/id" })),
        Form::Map => json!({
            "type": "object", "description": about,
            "additionalProperties": {
                "anyOf": [{ "type": "string" }, { "type": "object", "additionalProperties": { "type": "string" } }]
            }
        }),
    }
}

fn described(mut schema: Value, about: &str) -> Value {
    if let Some(object) = schema.as_object_mut() {
        object.insert("description".into(), json!(about));
    }
    schema
}

/// A table with these fields and no others.
fn object(fields: &Declarations, with_required: bool) -> Value {
    let properties: Map<String, Value> = fields.iter().map(|(name, decl)| (name.clone(), field(decl))).collect();
    let required: Vec<&String> =
        fields.iter().filter(|(_, d)| with_required && d.required).map(|(name, _)| name).collect();
    json!({ "type": "object", "properties": properties, "required": required, "additionalProperties": false })
}

/// `component`: the kind of each decides its fields, given or that of the stock item. One that is `like` another may leave
/// out its kind and what the kind requires; its fields are then of some kind.
fn components(language: &Language, known: &KindFields, shelf: &Shelf) -> Value {
    let of_kind = |key: &str, words: Value, kind: &str| {
        json!({
            "if": { "properties": { key: words }, "required": [key] },
            "then": { "$ref": format!("#/$defs/kind-{kind}") }
        })
    };
    let mut choose: Vec<Value> =
        known.kinds.keys().map(|kind| of_kind("kind", json!({ "const": kind }), kind)).collect();
    for kind in known.kinds.keys() {
        let items: Vec<&str> = shelf.of_kind(kind).collect();
        if !items.is_empty() {
            choose.push(of_kind("stock", json!({ "enum": items }), kind));
        }
    }
    let about = |field: &str| language.component.common.get(field).map_or("", |d| d.about.as_str());
    let mut stock = json!({ "type": "string", "description": about("stock") });
    if let (true, Some(stock)) = (shelf.there, stock.as_object_mut()) {
        stock.insert("enum".into(), json!(shelf.items.keys().collect::<Vec<_>>()));
    }
    json!({
        "type": "object",
        "description": "What is built in: [component.<id>].",
        "propertyNames": { "$ref": "#/$defs/id" },
        "additionalProperties": {
            "type": "object",
            "properties": {
                "kind": { "enum": known.kinds.keys().collect::<Vec<_>>(), "description": "What it is." },
                "like": { "type": "string", "description": about("like") },
                "stock": stock
            },
            "propertyNames": { "$ref": "#/$defs/field-of-some-kind" },
            "anyOf": [{ "required": ["kind"] }, { "required": ["like"] }, { "required": ["stock"] }],
            "allOf": choose
        }
    })
}

fn definitions(known: &KindFields) -> Value {
    let mut defs = Map::new();
    let id = json!({ "type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$", "maxLength": LONGEST_ID });
    defs.insert("id".into(), id);
    let fields: BTreeSet<&String> = known.kinds.values().flat_map(indexmap::IndexMap::keys).collect();
    defs.insert("field-of-some-kind".into(), json!({ "enum": fields }));
    for dimension in Dimension::ALL {
        defs.insert(definition_name(*dimension), quantity(*dimension));
    }
    for (kind, fields) in &known.kinds {
        let mut schema = object(fields, false);
        let required: Vec<&String> =
            fields.iter().filter(|(name, d)| d.required && *name != "kind").map(|(name, _)| name).collect();
        if let (false, Some(object)) = (required.is_empty(), schema.as_object_mut()) {
            object.insert(
                "anyOf".into(),
                json!([{ "required": ["like"] }, { "required": ["stock"] }, { "required": required }]),
            );
        }
        defs.insert(format!("kind-{kind}"), schema);
    }
    Value::Object(defs)
}

fn definition_name(dimension: Dimension) -> String {
    format!("quantity-{}", dimension.word().replace(' ', "-"))
}

/// One or more numbers with units: `4.2 m`, `12 ft 6 in`, `1 1/2 in`.
fn quantity(dimension: Dimension) -> Value {
    let mut names: Vec<&str> = dimension.units().iter().map(|u| u.name).collect();
    names.sort_by_key(|n| std::cmp::Reverse(n.len()));
    let units = names.iter().map(|n| escaped(n)).collect::<Vec<_>>().join("|");
    let number = r"(\d+ +\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)";
    let pattern = format!(r"^\s*[-−+]?\s*{number}\s*({units})(\s*{number}\s*({units}))*\s*$");
    json!({ "type": "string", "pattern": pattern, "examples": [dimension.example()] })
}

fn escaped(text: &str) -> String {
    text.chars().fold(String::new(), |mut out, c| {
        if r"\^$.|?*+()[]{}/".contains(c) {
            out.push('\\');
        }
        out.push(c);
        out
    })
}

fn lengths(n: usize) -> Value {
    json!({
        "type": "array", "minItems": n, "maxItems": n,
        "items": { "$ref": format!("#/$defs/{}", definition_name(Dimension::Length)) }
    })
}

fn field(decl: &FieldDecl) -> Value {
    let one_or_more = json!({ "anyOf": [{ "type": "string" }, { "type": "array", "items": { "type": "string" } }] });
    let mut schema = match decl.ty {
        FieldType::Quantity(dimension) => json!({ "$ref": format!("#/$defs/{}", definition_name(dimension)) }),
        FieldType::Lengths3 => lengths(3),
        FieldType::Lengths2 => lengths(2),
        FieldType::Points => json!({ "type": "array", "items": lengths(3) }),
        FieldType::Text | FieldType::Prose | FieldType::Component | FieldType::Switch | FieldType::Place => {
            json!({ "type": "string" })
        }
        FieldType::Flag => json!({ "type": "boolean" }),
        FieldType::Count => json!({ "type": "integer", "minimum": 0 }),
        FieldType::Choice => json!({ "enum": decl.choices }),
        FieldType::Date => json!({ "type": "string", "format": "date", "pattern": r"^\d{4}-\d{2}-\d{2}$" }),
        FieldType::MonthDay => json!({ "type": "string", "pattern": r"^\d{2}-\d{2}$" }),
        FieldType::Components | FieldType::Places => one_or_more,
        FieldType::Texts => json!({ "type": "array", "items": { "type": "string" } }),
        FieldType::Conductor => json!({
            "type": "string", "pattern": r"^\s*(([1-4]\/0|\d+)\s*(AWG|awg)|\d+(\.\d+)?\s*(mm2|mm²))\s*$"
        }),
        FieldType::Price => json!({ "type": "string", "pattern": r"^\s*[A-Z]{3} +\d+(\.\d+)?\s*$" }),
        FieldType::Rows(of) => json!({ "type": "array", "items": object(&of.fields(), true) }),
        FieldType::Parts => json!({
            "type": "object", "propertyNames": { "$ref": "#/$defs/id" }, "additionalProperties": object(&decl.has, false)
        }),
        FieldType::ChoiceByField => json!({ "type": "object", "additionalProperties": { "enum": decl.choices } }),
    };
    if let Some(object) = schema.as_object_mut() {
        object.insert("description".into(), json!(decl.about));
        if let Some(default) = &decl.default {
            object.insert("default".into(), json!(default));
        }
        if decl.ty == FieldType::Count {
            for (key, bound) in [("minimum", &decl.min), ("maximum", &decl.max)] {
                if let Some(bound) = bound.as_ref().and_then(toml::Value::as_integer) {
                    object.insert(key.into(), json!(bound));
                }
            }
        }
    }
    schema
}
