//! `watch`: compiles again whenever a spec or a file of the shop's folder is saved.
//!
//! The specs are read a few times a second and compared by content. That needs no help of the file system, so it works
//! with editors that write by rename, on network drives and in containers, and a save without a change does nothing.

use super::args::Watch;
use super::compile::tell;
use super::house::{Glance, House};
use super::make::{Made, make};
use super::order::Order;
use super::prepare::{Prepared, prepare};
use super::print::Print;
use super::spec_file::{count, folder_names};
use super::stop;
use super::{CLEAN, MessageFormat, read};
use crate::diag::Finding;
use crate::spec::is_syntax;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

/// Time between two looks.
const LOOK: Duration = Duration::from_millis(80);

/// A spec that is away for longer is told of; an editor that writes by rename is faster.
const AWAY: Duration = Duration::from_secs(2);

/// How many changed fields, files and so on a line names.
const NAMED: usize = 6;

/// One spec and what was last seen of it.
struct Watched<'a> {
    spec: &'a Path,
    folder: &'a str,
    /// Text that was last worked on.
    text: Vec<u8>,
    /// The shop's folder as it was then.
    shop: Glance,
    /// To be compiled.
    due: bool,
    /// Since when it cannot be read, and whether that has been told.
    away: Option<(Instant, bool)>,
    /// Fields of the last text that was TOML.
    fields: BTreeMap<String, String>,
    /// Findings that were told and are not known to be gone: name, and what tells them apart.
    told: BTreeSet<(&'static str, String)>,
    /// The revision it was last compared with.
    compared: Option<String>,
    /// Whether documents of it have been made.
    good: bool,
}

pub(super) fn run(print: &Print, house: &House<'_>, args: &Watch) -> Result<u8, String> {
    let names = folder_names(&args.specs, &args.wanted.out)?;
    stop::listen();
    let mut watched = Vec::new();
    for (spec, folder) in args.specs.iter().zip(&names) {
        if !spec.is_dir() && spec.exists() && !spec.is_file() {
            return Err(format!("cannot watch {}: it is no file", spec.display()));
        }
        let text = read::spec(spec)?;
        watched.push(Watched {
            spec,
            folder,
            text,
            shop: house.glance(spec),
            due: true,
            away: None,
            fields: BTreeMap::new(),
            told: BTreeSet::new(),
            compared: None,
            good: false,
        });
    }
    let order = Order::of(house, &args.wanted)?;
    while !stop::asked() {
        round(print, &order, &mut watched);
        if !watched.iter().any(|w| w.due) {
            print.note("waiting for a save; Ctrl-C ends");
        }
        while !stop::asked() && !look(print, house, &mut watched) {
            thread::sleep(LOOK);
        }
    }
    print.note("no longer watching");
    Ok(CLEAN)
}

/// Looks at all specs; whether one is due and none is being written just now.
#[expect(clippy::disallowed_methods, reason = "how long a spec has been away")]
fn look(print: &Print, house: &House<'_>, watched: &mut [Watched<'_>]) -> bool {
    let mut told = BTreeSet::new();
    for watched in watched.iter_mut() {
        let shop = settled(|| Some(house.glance(watched.spec)));
        if let Some(shop) = shop.filter(|shop| *shop != watched.shop) {
            let saved = listed(&watched.shop.changed(&shop));
            watched.shop = shop;
            watched.due = true;
            if told.insert(saved.clone()) {
                print.note(&format!("{saved}: saved"));
            }
        }
        if let Some(text) = settled(|| read::spec(watched.spec).ok()) {
            watched.away = None;
            if text != watched.text {
                watched.text = text;
                watched.due = true;
            }
            continue;
        }
        let (since, told) = watched.away.get_or_insert((Instant::now(), false));
        if since.elapsed() > AWAY && !*told {
            *told = true;
            print.note(&format!("{} cannot be read; waiting for it", watched.spec.display()));
        }
    }
    watched.iter().any(|w| w.due)
}

/// What is there, once two looks give the same: an editor that writes in place is not done in between.
fn settled<T: PartialEq>(look: impl Fn() -> Option<T>) -> Option<T> {
    let mut seen = look()?;
    loop {
        thread::sleep(LOOK / 4);
        let again = look()?;
        if again == seen {
            return Some(seen);
        }
        seen = again;
    }
}

/// Compiles what is due. A save in the meantime breaks it off, and what is not done stays due.
#[expect(clippy::disallowed_methods, reason = "how long it took is told, never written")]
fn round(print: &Print, order: &Order<'_>, watched: &mut [Watched<'_>]) {
    let begun = Instant::now();
    let due: Vec<usize> = (0..watched.len()).filter(|at| watched[*at].due).collect();
    let asked: Vec<(&Path, &str)> = due.iter().map(|at| (watched[*at].spec, watched[*at].folder)).collect();
    let prepared = prepare(&asked, order);
    for (at, prepared) in due.iter().zip(&prepared) {
        watched[*at].due = false;
        match prepared {
            Ok(prepared) => tell_findings(print, &mut watched[*at], prepared),
            Err(fault) => print.fault(&format!("{}: {fault}", watched[*at].spec.display())),
        }
    }
    let builds: Vec<(usize, &Prepared)> = due
        .iter()
        .zip(&prepared)
        .filter_map(|(at, prepared)| Some((*at, prepared.as_ref().ok().filter(|p| p.errors == 0)?)))
        .collect();
    let texts: Vec<&Prepared> = builds.iter().map(|(_, p)| *p).collect();
    let (superseded, done) = (AtomicBool::new(false), AtomicBool::new(false));
    let files: Vec<(&Path, &[u8], &Glance)> = watched.iter().map(|w| (w.spec, w.text.as_slice(), &w.shop)).collect();
    let made = thread::scope(|scope| {
        scope.spawn(|| {
            while !done.load(Ordering::Relaxed) && !superseded.load(Ordering::Relaxed) {
                let saved = |(spec, text, shop): &(&Path, &[u8], &Glance)| {
                    read::spec(spec).is_ok_and(|now| !now.is_empty() && now != *text)
                        || order.house.glance(spec) != **shop
                };
                superseded.store(files.iter().any(saved), Ordering::Relaxed);
                thread::sleep(LOOK);
            }
        });
        let made = make(print, order, &texts, &|| stop::asked() || superseded.load(Ordering::Relaxed));
        done.store(true, Ordering::Relaxed);
        made
    });
    let superseded = superseded.load(Ordering::Relaxed);
    for ((at, _), made) in builds.iter().zip(made) {
        let watched = &mut watched[*at];
        match made {
            Ok(made) => {
                watched.good = true;
                tell(print, &made);
                tell_files(print, &made, begun.elapsed());
            }
            Err(_) if superseded => watched.due = true,
            Err(_) if stop::asked() => {}
            Err(fault) => print.fault(&format!("{}: {fault}", watched.spec.display())),
        }
    }
    if superseded {
        print.note("saved again in the meantime; starting over");
    }
}

/// What changed in the spec, the findings that are new, and how many stand or went.
fn tell_findings(print: &Print, watched: &mut Watched<'_>, prepared: &Prepared) {
    let name = &prepared.file.name;
    if let Some(fields) = fields_of(&prepared.file.text) {
        let changed = differences(&watched.fields, &fields);
        if !watched.fields.is_empty() && !changed.is_empty() {
            print.note(&format!("{name}: {}", listed(&changed)));
        }
        watched.fields = fields;
    }
    let key = |f: &Finding| (f.name, format!("{:?} {:?} {}", f.severity, f.subject, f.headline));
    let now: BTreeSet<(&str, String)> = prepared.findings.iter().map(key).collect();
    let gone: BTreeSet<(&str, String)> = gone(&watched.told, &now, prepared.unchecked);
    if print.format() == MessageFormat::Json {
        print.findings(&prepared.findings, &prepared.file);
    } else {
        let new: Vec<Finding> = prepared.findings.iter().filter(|f| !watched.told.contains(&key(f))).cloned().collect();
        print.findings(&new, &prepared.file);
        let standing = now.len() - new.len().min(now.len());
        let more = [(standing, "as before"), (gone.len(), "gone")]
            .map(|(n, what)| if n > 0 { format!(", {} {what}", count(n, "finding")) } else { String::new() });
        print.note(&format!("{name}: {}{}", prepared.summary, more.concat()));
    }
    watched.told.retain(|told| !gone.contains(told));
    watched.told.extend(now);
    if watched.compared != prepared.compared {
        watched.compared.clone_from(&prepared.compared);
        print.note(&format!("{name}: {}", watched.compared.as_deref().unwrap_or("compared with no release")));
    }
    if prepared.errors > 0 {
        let stands = if watched.good { "the documents of the last good save stand" } else { "nothing was written" };
        print.note(&format!("{name}: {stands}"));
    }
}

/// What was told and is not found any more. Where lines cannot be read the rest was not looked for: only a finding on
/// the form of the file is known to be gone.
fn gone(
    told: &BTreeSet<(&'static str, String)>,
    now: &BTreeSet<(&'static str, String)>,
    unchecked: bool,
) -> BTreeSet<(&'static str, String)> {
    told.difference(now).filter(|(name, _)| !unchecked || is_syntax(name)).cloned().collect()
}

/// Which files were rewritten, and the time it took.
fn tell_files(print: &Print, made: &Made, took: Duration) {
    let written = made.published.as_ref().map_or(&[][..], |p| &p.written);
    let names = if written.is_empty() { String::new() } else { format!("{}; ", listed(&by_stem(written))) };
    print.note(&format!("{names}{:.1} s", took.as_secs_f64()));
}

/// Files that differ in their endings alone as one: `schedule (html, md, pdf)`.
fn by_stem(files: &[String]) -> Vec<String> {
    let mut stems: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for file in files {
        let (stem, ending) = file.rsplit_once('.').unwrap_or((file, ""));
        stems.entry(stem).or_default().push(ending);
    }
    stems.into_iter().map(|(stem, endings)| format!("{stem} ({})", endings.join(", "))).collect()
}

/// The first few of a list.
fn listed(names: &[String]) -> String {
    let shown = names[..names.len().min(NAMED)].join(", ");
    if names.len() > NAMED { format!("{shown} and {} more", names.len() - NAMED) } else { shown }
}

/// All values of a spec by their paths; `None` where it is no TOML.
fn fields_of(text: &str) -> Option<BTreeMap<String, String>> {
    fn collect(path: &str, value: &toml::Value, into: &mut BTreeMap<String, String>) {
        match value {
            toml::Value::Table(table) => {
                for (key, value) in table {
                    let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                    collect(&path, value, into);
                }
            }
            other => drop(into.insert(path.to_owned(), other.to_string())),
        }
    }
    let mut fields = BTreeMap::new();
    collect("", &toml::Value::Table(toml::from_str(text).ok()?), &mut fields);
    Some(fields)
}

/// Paths whose values differ.
fn differences(old: &BTreeMap<String, String>, new: &BTreeMap<String, String>) -> Vec<String> {
    let paths: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    paths.into_iter().filter(|path| old.get(*path) != new.get(*path)).cloned().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changed_fields_are_named_by_their_paths() {
        let fields = |text| fields_of(text).expect("toml");
        let old = fields("[component.fridge]\nrun = \"4 m\"\nkind = \"fridge\"\n[use]\ncrew = 2\n");
        let new = fields("[component.fridge]\nrun = \"5 m\"\nkind = \"fridge\"\nplace = \"galley\"\n");
        assert_eq!(differences(&old, &new), ["component.fridge.place", "component.fridge.run", "use.crew"]);
        assert_eq!(fields_of("[component"), None);
        let files = ["a.html", "a.pdf", "drawings/b.svg"].map(str::to_owned);
        assert_eq!(by_stem(&files), ["a (html, pdf)", "drawings/b (svg)"]);
        let many: Vec<String> = (0..9).map(|n| n.to_string()).collect();
        assert_eq!(listed(&many), "0, 1, 2, 3, 4, 5 and 3 more");
    }

    #[test]
    fn what_was_not_looked_for_is_not_gone() {
        let set = |names: &[&'static str]| names.iter().map(|n| (*n, (*n).to_owned())).collect::<BTreeSet<_>>();
        let told = set(&["low-sun", "toml-syntax", "unknown-kind"]);
        assert_eq!(gone(&told, &set(&["low-sun"]), false), set(&["toml-syntax", "unknown-kind"]));
        assert_eq!(gone(&told, &set(&[]), true), set(&["toml-syntax"]));
    }
}
