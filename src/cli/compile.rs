//! `compile`: from specs to their folders of documents.

use super::args::{Compile, Emit};
use super::house::House;
use super::make::{Made, make};
use super::order::Order;
use super::prepare::{Prepared, prepare};
use super::print::Print;
use super::spec_file::{folder_name, folder_names, load};
use super::{BROKEN_OFF, CLEAN, COULD_NOT_RUN, STOPPED, frozen, stop};
use crate::pipeline::{self, Worked};
use std::path::PathBuf;

pub(super) fn run(print: &Print, house: &House<'_>, args: &Compile) -> Result<u8, String> {
    if let Some(emit) = args.emit {
        let [spec] = args.specs.as_slice() else { return Err("--emit takes one spec".to_owned()) };
        let loaded = load(house, spec)?;
        let after = Order::of(house, &args.wanted)?.after(&folder_name(spec))?;
        let earlier = after.as_ref().map(|after| &after.earlier.build);
        return emit_json(print, &pipeline::work_out_after(&loaded, earlier).map_err(|e| e.to_string())?, emit);
    }
    stop::listen();
    all(print, &args.specs, &Order::of(house, &args.wanted)?)
}

/// Compiles specs, and releases them where the order says so.
pub(super) fn all(print: &Print, specs: &[PathBuf], order: &Order<'_>) -> Result<u8, String> {
    let names = folder_names(specs, &order.wanted.out)?;
    let asked: Vec<_> = specs.iter().zip(&names).map(|(spec, name)| (spec.as_path(), name.as_str())).collect();
    let prepared = prepare(&asked, order);
    let several = specs.len() > 1;
    print.findings_of(prepared.iter().flatten().map(|p| (p.findings.as_slice(), &p.file)));
    for prepared in prepared.iter().flatten() {
        let of = if several { format!("{}: ", prepared.file.name) } else { String::new() };
        print.note(&format!("{of}{}", prepared.summary));
        if let Some(compared) = &prepared.compared {
            print.note(&format!("{of}{compared}"));
        }
    }
    let builds: Vec<&Prepared> = prepared.iter().flatten().filter(|p| p.goes_on()).collect();
    let mut made = make(print, order, &builds, &stop::asked).into_iter();
    let mut codes = Vec::new();
    for (spec, prepared) in specs.iter().zip(&prepared) {
        let code = match prepared {
            Err(fault) => Err(fault.clone()),
            Ok(stopped) if !stopped.goes_on() => {
                if let Some(refused) = &stopped.refused {
                    print.fault(&format!("{}: {refused}", spec.display()));
                }
                print.note(&if several {
                    format!("{}: nothing was written", spec.display())
                } else {
                    "nothing was written".to_owned()
                });
                Ok(STOPPED)
            }
            Ok(_) => made.next().unwrap_or_else(|| Err("was not made".to_owned())).map(|made| tell(print, &made)),
        };
        codes.push(code.unwrap_or_else(|fault| {
            print.fault(&if several { format!("{}: {fault}", spec.display()) } else { fault });
            COULD_NOT_RUN
        }));
    }
    if several {
        print.note(&overview(&codes, if order.release { "released" } else { "compiled" }));
    }
    if stop::asked() && codes.contains(&COULD_NOT_RUN) {
        return Ok(BROKEN_OFF);
    }
    Ok(codes.into_iter().max().unwrap_or(CLEAN))
}

/// Says what became of a build.
pub(super) fn tell(print: &Print, made: &Made) -> u8 {
    print.note(&made.to_string());
    if let Some(untidy) = &made.untidy {
        print.note(&format!("the earlier folder could not be removed, the next compile tries again: {untidy}"));
    }
    for (to, from) in &made.beyond {
        let from: Vec<&str> = from.iter().map(String::as_str).collect();
        let leads = if from.len() == 1 { "leads" } else { "lead" };
        print.note(&format!("{} {leads} to {to} in places, which is not made yet", from.join(", ")));
    }
    if let Some(fault) = &made.no_pdfs {
        print.fault(fault);
        return COULD_NOT_RUN;
    }
    made.frozen.as_ref().map_or(CLEAN, |frozen| frozen::tell(print, frozen))
}

/// One line on what became of several specs.
fn overview(codes: &[u8], done: &str) -> String {
    let count = |code: u8| codes.iter().copied().filter(|c| *c == code).map(|_| 1).sum::<usize>();
    let parts = [
        (count(CLEAN), done),
        (count(STOPPED), "stopped by findings"),
        (count(COULD_NOT_RUN), "could not be made whole"),
    ];
    let parts: Vec<_> = parts.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{n} {what}")).collect();
    format!("{} specs: {}", codes.len(), parts.join(", "))
}

fn emit_json(print: &Print, worked: &Worked<'_>, emit: Emit) -> Result<u8, String> {
    let text = match emit {
        Emit::Spec => serde_json::to_string_pretty(worked.build.spec),
        Emit::Build => serde_json::to_string_pretty(&worked.build),
        Emit::Figures => serde_json::to_string_pretty(&worked.ledger),
    };
    print.out_json(&format!("{}\n", text.map_err(|e| e.to_string())?));
    if worked.counts().0 > 0 {
        print.note("the spec has errors, so some of this may be missing or wrong; `rigbinder check` tells them");
        return Ok(STOPPED);
    }
    Ok(CLEAN)
}
