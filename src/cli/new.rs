//! `new`: a commented starter: a spec, a shop's folder, a kind or a stock item.

use super::CLEAN;
use super::house::House;
use super::print::Print;
use crate::catalogue::{Catalogue, OPEN, PAGE};
use crate::kinds::{Library, starter_like};
use crate::letters::capital;
use crate::publish::plainly;
use crate::spec::{self, Language};
use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// What to begin.
#[derive(Debug)]
pub(super) struct Wanted {
    pub(super) spec: Option<PathBuf>,
    pub(super) kind: Option<String>,
    pub(super) like: Option<String>,
    pub(super) stock: Option<String>,
}

pub(super) fn run(print: &Print, house: &House<'_>, wanted: &Wanted) -> Result<u8, String> {
    match wanted {
        Wanted { spec: Some(path), .. } => a_spec(print, house, path),
        Wanted { stock: Some(id), kind: Some(kind), .. } => an_item(print, house, id, kind),
        Wanted { kind: Some(id), like, .. } => a_kind(print, house, id, like.as_deref()),
        _ => a_shop(print, house),
    }
}

fn a_spec(print: &Print, house: &House<'_>, path: &Path) -> Result<u8, String> {
    let starter = spec::starter(house.built_in()).map_err(|e| e.to_string())?;
    if path == Path::new("-") {
        print.out(starter);
        return Ok(CLEAN);
    }
    let name = path.display();
    if path.is_dir() {
        let file = path.join("mine.toml");
        return Err(format!("cannot make {name}: it is a folder; name the file to make, such as {}", file.display()));
    }
    // What the shop's page says stands in every spec that is silent.
    let starter = if house.has_shop(path)? { left_to_shop(starter) } else { starter.to_owned() };
    write(path, &starter)?;
    print.note(&format!("wrote {name}; change it to your build, then: rigbinder check {name}"));
    Ok(CLEAN)
}

/// The starter with the lines marked off that a shop's page gives for all its specs.
fn left_to_shop(starter: &str) -> String {
    let of_shop = |section: &str, line: &str| {
        let field = line.split('=').next().unwrap_or_default().trim();
        section == "[contact.shop]" && !line.is_empty() && !line.starts_with('#')
            || section == "[build]" && spec::of_shop(field)
    };
    let mut section = "";
    let lines = starter.lines().map(|line| {
        if line.starts_with('[') {
            section = line;
        }
        if of_shop(section, line) { format!("# {line}\n") } else { format!("{line}\n") }
    });
    lines.collect()
}

fn a_shop(print: &Print, house: &House<'_>) -> Result<u8, String> {
    let Some(folder) = house.named() else {
        return Err("name the spec to make, or a shop's folder by --shop, or a kind by --kind".to_owned());
    };
    let starter = spec::starter_shop(house.built_in()).map_err(|e| e.to_string())?;
    for inside in OPEN {
        let path = folder.join(inside);
        fs::create_dir_all(&path).map_err(|e| format!("cannot make {}: {}", path.display(), plainly(&e)))?;
    }
    write(&folder.join(PAGE), starter)?;
    let name = folder.display();
    print.note(&format!("wrote {name}; change {PAGE} to your shop, then: rigbinder check --shop {name}"));
    Ok(CLEAN)
}

fn a_kind(print: &Print, house: &House<'_>, id: &str, like: Option<&str>) -> Result<u8, String> {
    let (folder, catalogue) = shop_with(house, id)?;
    let kinds = catalogue.folder("kinds", "toml");
    // A kind that is like the built-in one of its name changes that one for every van of the shop.
    if kinds.iter().any(|kind| kind.stem == id && (like != Some(id) || !kind.layer.is_built_in())) {
        return Err(format!("there is a kind {id} already; give the new one another name"));
    }
    let name = capital(&id.replace('-', " "));
    let text = match like {
        None => spec::starter_kind(&catalogue).map_err(|e| e.to_string())?.replacen("New kind", &name, 1),
        Some(like) => starter_like(&catalogue, id, &name, like)
            .map_err(|e| e.to_string())?
            .ok_or_else(|| unknown(&catalogue, like))?,
    };
    let path = folder.join("kinds").join(format!("{id}.toml"));
    write(&path, &text)?;
    print.note(&format!("wrote {}; then: rigbinder check --shop {}", path.display(), folder.display()));
    Ok(CLEAN)
}

fn an_item(print: &Print, house: &House<'_>, id: &str, kind: &str) -> Result<u8, String> {
    let (folder, catalogue) = shop_with(house, id)?;
    let library = Library::load_where(&catalogue, |known| known == kind).map_err(|e| e.to_string())?;
    let language = Language::of(&catalogue).map_err(|e| e.to_string())?;
    let shared = &language.component;
    let Some(of_kind) = library.get(kind) else {
        return Err(unknown(&catalogue, kind));
    };
    let known = library.fields(&shared.common, &shared.supply, &shared.output);
    let mut fields = known.kinds.get(kind).cloned().unwrap_or_default();
    for (field, decl) in language.of_stock() {
        fields.entry(field.clone()).or_insert_with(|| decl.clone());
    }
    let path = folder.join("stock").join(format!("{id}.toml"));
    write(&path, &spec::starter_item(id, kind, &of_kind.summary, &fields))?;
    print.note(&format!("wrote {}; then: rigbinder check --shop {}", path.display(), folder.display()));
    Ok(CLEAN)
}

/// What to say of a kind that is not there.
fn unknown(catalogue: &Catalogue, kind: &str) -> String {
    let meant: Vec<String> = catalogue.meant(kind).into_iter().map(|meant| meant.id).collect();
    let meant = if meant.is_empty() { String::new() } else { format!("; did you mean {}?", meant.join(" or ")) };
    format!("there is no kind {kind}{meant}; `rigbinder kinds` lists them all")
}

/// The shop's folder that a kind or an item of this id goes into, and the catalogue with it.
fn shop_with(house: &House<'_>, id: &str) -> Result<(PathBuf, Catalogue), String> {
    if !spec::is_plain(id) {
        return Err(format!("\"{id}\" is no id: it has a-z and 0-9, parts joined by single hyphens"));
    }
    let folder = house.shop()?;
    let catalogue = house.catalogue(&folder.join(PAGE))?;
    Ok((folder, catalogue))
}

/// Makes a file that must not exist yet.
fn write(path: &Path, text: &str) -> Result<(), String> {
    let name = path.display();
    let made = OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = made.map_err(|error| match (error.kind(), path.parent()) {
        (ErrorKind::AlreadyExists, _) => {
            format!("cannot make {name}: it exists, and nothing that exists is written over")
        }
        (ErrorKind::NotFound, Some(folder)) if !folder.exists() => {
            format!("cannot make {name}: there is no folder {}; make it first", folder.display())
        }
        _ => format!("cannot make {name}: {}", plainly(&error)),
    })?;
    if let Err(error) = file.write_all(text.as_bytes()) {
        // Half a file would stand in the way of the next try.
        drop(fs::remove_file(path));
        return Err(format!("cannot write {name}: {}", plainly(&error)));
    }
    Ok(())
}
