//! `check --for handover`: what is missing, in groups, and where to write it.

use super::print::Print;
use super::spec_file::summary;
use super::{CLEAN, MessageFormat, STOPPED};
use crate::compute::handover::{self, Group, Missing};
use crate::diag::visible;
use crate::pipeline::Worked;
use crate::source::SourceFile;
use serde_json::json;
use std::fmt::Write as _;

pub(super) fn run(print: &Print, worked: &Worked<'_>, file: &SourceFile) -> u8 {
    let missing = &worked.missing;
    match print.format() {
        MessageFormat::Json => print.out_json(&as_json(worked)),
        MessageFormat::Short => print.out(&short(missing, &file.name)),
        MessageFormat::Human => {
            print.findings(&worked.findings, file);
            print.out(&human(missing));
        }
    }
    if worked.unchecked() {
        print.note(&format!("{}: {}", visible(&file.name), summary(worked, 0)));
        return STOPPED;
    }
    let (things, name) = (handover::count(missing), visible(&file.name));
    let proving = match missing.len() - things {
        0 => String::new(),
        1 => ", with one reading or test that proves a hold point".to_owned(),
        n => format!(", with {n} readings and tests that prove hold points"),
    };
    print.note(&match things {
        0 => format!("{name}: ready for handover"),
        1 => format!("{name}: 1 thing is missing for handover{proving}"),
        n => format!("{name}: {n} things are missing for handover{proving}"),
    });
    if missing.is_empty() { CLEAN } else { STOPPED }
}

/// One object: whether it is ready, and what is missing.
fn as_json(worked: &Worked<'_>) -> String {
    let one = |m: &Missing| {
        json!({
            "group": m.group, "stage": m.stage, "id": m.id, "what": m.what,
            "expect": m.expect, "of": m.of, "section": m.group.section(), "write": m.write
        })
    };
    let list: Vec<_> = worked.missing.iter().map(one).collect();
    format!("{}\n", json!({ "ready": list.is_empty(), "missing": list }))
}

fn short(missing: &[Missing], file: &str) -> String {
    let mut text = String::new();
    for m in missing {
        let place = if m.write.is_empty() { String::new() } else { format!(": {} {}", m.group.section(), m.write) };
        let _ = writeln!(text, "{}: {}: {}{place}", visible(file), visible(&m.id), visible(&m.what));
    }
    text
}

/// By group, in it by stage: a comment that says what it is, then the lines to write, as the spec has them. Each header
/// stands once, so that all of it can be pasted into a spec that has none of them.
fn human(missing: &[Missing]) -> String {
    let mut text = String::new();
    let mut section = "";
    for of_group in missing.chunk_by(|a, b| a.group == b.group) {
        let group = of_group[0].group;
        let proving = of_group.len() - handover::count(of_group);
        let with = if proving > 0 { format!(", {proving} of them for hold points above") } else { String::new() };
        let _ = writeln!(text, "\n# {} ({}{with})", group.title(), of_group.len());
        if matches!(group, Group::Errors | Group::Warnings | Group::Contacts | Group::Certificates) {
            for m in of_group {
                let _ = writeln!(text, "#   {}: {}", m.id, visible(&m.what));
            }
            continue;
        }
        if section != group.section() {
            section = group.section();
            let _ = writeln!(text, "{section}");
        }
        for of_stage in of_group.chunk_by(|a, b| a.stage == b.stage) {
            let tells = matches!(group, Group::Holds | Group::Readings);
            if let Some(stage) = of_stage[0].stage.filter(|_| tells) {
                let _ = writeln!(text, "# {}", stage.title());
            }
            let longest = of_stage.iter().map(|m| m.write.chars().count()).max().unwrap_or(0).min(48);
            for m in of_stage {
                let expect = if m.expect.is_empty() { String::new() } else { format!("; expect {}", m.expect) };
                let _ = writeln!(text, "{:longest$}  # {}{}", visible(&m.write), visible(&m.what), visible(&expect));
            }
        }
    }
    text
}
