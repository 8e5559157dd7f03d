//! `kinds`: the library of component kinds.

use super::house::House;
use super::print::Print;
use super::sections;
use super::{CLEAN, COULD_NOT_RUN};
use crate::catalogue::{Catalogue, Meant};
use crate::fields::Declarations;
use crate::kinds::{Kind, Library, Procedures, System};
use crate::roles::{self, Contract};
use crate::spec::{ComponentFields, Language};
use std::fmt::Write;
use std::path::Path;

pub(super) fn run(print: &Print, house: &House<'_>, id: &str) -> Result<u8, String> {
    let catalogue = &house.catalogue(Path::new("here.toml"))?;
    let library = Library::load(catalogue).map_err(|e| e.to_string())?;
    let language = Language::of(catalogue).map_err(|e| e.to_string())?;
    if id.trim().is_empty() {
        print.out(&list(&library, &language));
        return Ok(CLEAN);
    }
    if let Some(kind) = library.get(id) {
        print.out(&one(kind, &language.component, &library.procedures));
        return Ok(CLEAN);
    }
    if let Some(text) = sections::of_spec(&language, id) {
        print.out(&text);
        return Ok(CLEAN);
    }
    let meant = meant(catalogue, &library, id);
    if meant.is_empty() {
        print.fault(&format!("there is no kind and no section `{id}`; `rigbinder kinds` lists them all"));
        return Ok(COULD_NOT_RUN);
    }
    print.out(&found(id, &meant));
    Ok(CLEAN)
}

/// The contract of a role; of "" the list of all.
pub(super) fn role(print: &Print, id: &str) -> u8 {
    if id.is_empty() {
        let width = roles::ALL.iter().map(|r| r.id.len()).max().unwrap_or(0);
        let mut text = String::new();
        for role in roles::ALL {
            let _ = writeln!(text, "  {:width$}  {}", role.id, role.about.trim());
        }
        let _ = writeln!(text, "\n`rigbinder kinds --role <role>` tells what a kind must say of one.");
        print.out(&text);
        return CLEAN;
    }
    let Some(role) = roles::contract(id) else {
        let near = crate::kinds::nearest(id, roles::ALL.iter().map(|r| r.id));
        let near = near.map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
        print.fault(&format!("there is no role `{id}`{near}; `rigbinder kinds --role` lists them all"));
        return COULD_NOT_RUN;
    };
    print.out(&contract(role));
    CLEAN
}

fn contract(role: &Contract) -> String {
    let mut text = format!("[role.{}]\n{}\n", role.id, role.about.trim());
    let settings = role.settings();
    if !settings.is_empty() {
        let width = settings.iter().map(|(name, _)| name.len()).max().unwrap_or(0);
        let _ = writeln!(text, "\nSettings");
        for (name, about) in settings {
            let _ = writeln!(text, "  {name:width$}  {about}");
        }
    }
    for (title, must) in
        [("Fields a kind must have, with a default or required = true", true), ("Fields a kind may take", false)]
    {
        let fields: Declarations = role
            .declarations()
            .into_iter()
            .filter(|(name, _)| role.field(name).is_some_and(|f| f.must == must))
            .collect();
        sections::fields(&mut text, title, &fields);
    }
    if !role.posts().is_empty() {
        let posts: Vec<String> = role.posts().iter().map(|(id, takes)| format!("{id} ({takes})")).collect();
        let _ = writeln!(text, "\nPosts of each\n  {}", posts.join(", "));
    }
    text
}

/// Kinds that a word means which is the id of none: by what people call them; else one that is a slip away.
fn meant(catalogue: &Catalogue, library: &Library, word: &str) -> Vec<Meant> {
    let meant = catalogue.meant(word);
    if !meant.is_empty() {
        return meant;
    }
    let near = crate::kinds::nearest(&word.to_lowercase(), library.iter().map(|k| k.id.as_str()));
    let near = near.and_then(|id| library.get(id));
    near.map(|k| Meant { id: k.id.clone(), what: k.summary.clone(), exactly: false }).into_iter().collect()
}

fn found(word: &str, meant: &[Meant]) -> String {
    let width = meant.iter().map(|m| m.id.len()).max().unwrap_or(0);
    let mut text = format!("No kind is called `{word}`. These may be meant:\n");
    for Meant { id, what, .. } in meant {
        let _ = writeln!(text, "  {id:width$}  {what}");
    }
    let _ = writeln!(text, "\n`rigbinder kinds <kind>` tells the fields of one.");
    text
}

fn list(library: &Library, language: &Language) -> String {
    let width = library.iter().map(|k| k.id.len()).max().unwrap_or(0);
    let mut text = String::new();
    for system in System::ALL {
        let mut kinds = library.iter().filter(|k| k.system == *system).peekable();
        if kinds.peek().is_none() {
            continue;
        }
        let _ = writeln!(text, "{}", system.title());
        for kind in kinds {
            let _ = writeln!(text, "  {:width$}  {}", kind.id, kind.summary);
        }
        text.push('\n');
    }
    let _ = writeln!(text, "Sections of a spec\n  {}\n", sections::names(language));
    let _ = writeln!(
        text,
        "`rigbinder kinds <kind>` tells the fields of one, `rigbinder kinds <section>` those of a section."
    );
    text
}

fn one(kind: &Kind, fields: &ComponentFields, procedures: &Procedures) -> String {
    let mut text = format!("{} – {}\n{}\n", kind.id, kind.name, kind.summary);
    if !kind.also.is_empty() {
        let _ = writeln!(text, "Also called: {}", kind.also.join(", "));
    }
    if let Some(other) = kind.like.first() {
        let _ = writeln!(text, "Like the kind {other}, but for what differs.");
    }
    sections::fields(&mut text, "Fields of this kind", &kind.fields);
    for role in &kind.has {
        let Some(field) = kind.fields.get(*role) else { continue };
        sections::fields(&mut text, &format!("Fields of each {role}: {role}.<id> = {{ … }}"), &field.has);
    }
    if let Some(role) = kind.may_be_electric() {
        sections::fields(&mut text, "Fields of its supply circuit", &fields.supply);
        if role.has_output() {
            sections::fields(&mut text, "Fields of its output circuit", &fields.output);
        }
    }
    sections::fields(&mut text, "Fields of every component", &fields.common);
    let _ = writeln!(text, "\nIt brings");
    for task in &kind.tasks {
        let signer = task.other_signer().map(|signer| format!("; signed by {}", signer.title()));
        let latest = task.latest.map(|stage| format!("; may wait until {}", stage.id()));
        let (title, signer, latest) =
            (plain(&task.title, kind), signer.unwrap_or_default(), latest.unwrap_or_default());
        let _ = writeln!(text, "  task    {:24}  {title}{signer}{latest}", task.stage.id());
    }
    for item in &kind.upkeep {
        let when = [&item.every, &item.once, &item.replace, &item.season, &item.distance, &item.hours];
        let when = when.into_iter().flatten().next().map_or("", String::as_str);
        let _ = writeln!(text, "  upkeep  {when:24}  {}", plain(&item.title, kind));
    }
    for share in &kind.procedures {
        let title = procedures.get(&share.of).map_or("", |procedure| &procedure.title);
        let states = |word: &str, list: &[String]| {
            if list.is_empty() { String::new() } else { format!("; {word} {}", list.join(", ")) }
        };
        let (needs, brings) = (states("needs", &share.needs), states("brings", &share.brings));
        let _ = writeln!(text, "  share   {:24}  {title}{needs}{brings}", share.of);
    }
    text
}

/// A title without a build: the kind stands for the component.
fn plain(title: &str, kind: &Kind) -> String {
    title.replace("{{ name }}", &kind.name.to_lowercase())
}
