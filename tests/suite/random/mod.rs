//! Builds drawn at random: whatever a spec may say, figures stay numbers, documents stay whole, and nothing panics.
//!
//! The daily run draws the same few builds every time. `RIGBINDER_CASES=2000 cargo test --test suite -- random` draws
//! that many new ones for each property; what fails is kept in `tests/proptest-regressions/` and tried first from then on.

mod draft;
mod edit;
mod faulty;
mod figures;
mod files;
mod found;
mod lines;
mod networks;
mod plan;
mod recorded;
mod revisions;
mod shelf;
mod shuffled;
mod text;
mod unicode;
mod value;
mod volts;
mod wiring;

use crate::carried;
use crate::energy::account_of;
use crate::protection::{ac_is_protected_or_told, judged_as_told};
use draft::Draft;
use plan::BuildPlan;
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::{FileFailurePersistence, RngSeed, TestCaseError, TestRunner};
use rigbinder::diag::Severity;
use rigbinder::kinds::Library;
use rigbinder::pipeline::{self, Only};
use std::cell::Cell;
use std::collections::BTreeSet;

/// Most parts beside spine, panels, chargers and AC side.
const PARTS: usize = 24;

/// The build of a plan.
fn drawn(plan: &BuildPlan) -> Draft {
    let mut draft = wiring::build(plan);
    if plan.mended {
        draft.mend();
    }
    recorded::add(&mut draft, plan);
    if plan.mended {
        draft.mend();
    }
    shelf::stock(&mut draft, &plan.shop);
    draft
}

fn builds() -> impl Strategy<Value = Draft> {
    plan::build(PARTS).prop_map(|plan| drawn(&plan))
}

/// Tries a property on `few` builds, or on as many as `RIGBINDER_CASES` says. What fails is kept in the file `kept`.
fn hold<S: Strategy>(
    kept: &'static str,
    few: u32,
    strategy: &S,
    property: impl Fn(S::Value) -> Result<(), TestCaseError>,
) where
    S::Value: std::fmt::Debug,
{
    let asked = std::env::var("RIGBINDER_CASES").ok().map(|n| n.parse().expect("RIGBINDER_CASES is a number"));
    let mut runner = TestRunner::new(ProptestConfig {
        cases: asked.unwrap_or(few),
        rng_seed: if asked.is_some() { RngSeed::Random } else { RngSeed::Fixed(20_270_514) },
        failure_persistence: Some(Box::new(FileFailurePersistence::Direct(kept))),
        source_file: Some(file!()),
        max_shrink_time: 40_000,
        ..ProptestConfig::default()
    });
    if let Err(fault) = runner.run(strategy, property) {
        panic!("{fault}");
    }
}

#[test]
fn the_order_of_the_spec_changes_no_fact() {
    let seen = Cell::new(0);
    hold("tests/proptest-regressions/shuffled.txt", 8, &builds(), |draft| {
        seen.set(seen.get() + shuffled::tells_the_same(&draft));
        Ok(())
    });
    assert!(seen.get() > 100, "only {} facts named anything", seen.get());
}

/// Whatever a kind says must be wired has a conductor, and every conductor ends on a part or on the vehicle.
#[test]
fn posts_of_drawn_builds_are_wired() {
    let (all, clean) = (Cell::new(0), Cell::new(0));
    hold("tests/proptest-regressions/posts.txt", 24, &builds(), |draft| {
        let loaded = draft.load();
        let worked = pipeline::work_out(&loaded).expect("profile");
        crate::wiring::ends_fit(&worked);
        all.set(all.get() + worked.build.wiring.conductors.len());
        // What is not fed or feeds nothing is a finding of its own.
        if worked.counts().0 == 0 {
            clean.set(clean.get() + 1);
            let bare = crate::leads::bare_posts(&worked);
            prop_assert!(bare.is_empty(), "{}", bare.join("\n"));
        }
        Ok(())
    });
    assert!(all.get() > 500 && clean.get() > 0, "{} conductors, {} builds", all.get(), clean.get());
}

/// Each conductor of a drawn build stands in a one-line diagram, once.
#[test]
fn whatever_is_wired_is_in_a_diagram() {
    let seen = Cell::new(0);
    hold("tests/proptest-regressions/diagrams.txt", 12, &builds(), |draft| {
        let loaded = draft.load();
        let worked = pipeline::work_out(&loaded).expect("profile");
        seen.set(seen.get() + crate::drawings_one_line::everything_is_drawn(&worked));
        Ok(())
    });
    assert!(seen.get() > 200, "only {} conductors and devices were looked for", seen.get());
}

/// A kind or a field that is new is drawn without a word being said of it here.
#[test]
fn every_kind_and_most_fields_are_drawn() {
    let mut runner = TestRunner::new(ProptestConfig { rng_seed: RngSeed::Fixed(5), ..ProptestConfig::default() });
    let mut drawn: BTreeSet<(String, String)> = BTreeSet::new();
    for _ in 0..500 {
        let plan = plan::build(PARTS).new_tree(&mut runner).expect("a plan").current();
        for table in wiring::build(&plan).tables.iter().filter(|t| t.section == "component") {
            let kind = table.fields["kind"].as_str().expect("a kind");
            drawn.extend(table.fields.keys().map(|field| (kind.to_owned(), field.clone())));
        }
    }
    let of = |kind: &str, field: &str| drawn.contains(&(kind.to_owned(), field.to_owned()));
    let kinds = Library::ids(crate::harness::built_in());
    let never: Vec<_> = kinds.iter().filter(|k| !of(k, "kind")).collect();
    assert!(never.is_empty(), "never drawn: {never:?}");
    let fields: Vec<_> = kinds.iter().flat_map(|k| wiring::fields_of(k).keys().map(move |f| (k.as_str(), f))).collect();
    let given = fields.iter().filter(|(kind, field)| of(kind, field)).count();
    println!("{} kinds, {given} of {} fields", kinds.len(), fields.len());
    assert!(given * 10 >= fields.len() * 7, "only {given} of {} fields are ever given", fields.len());
}

/// Where a value is said changes nothing: what comes from stock, and of a kind of the shop that is like another and says
/// nothing else, is the build that says all of it in the spec.
#[test]
fn a_shop_that_says_the_same_makes_the_same_documents() {
    let (all, taken) = (Cell::new(0), Cell::new(0));
    hold("tests/proptest-regressions/shelf.txt", 4, &plan::build(PARTS), |mut plan| {
        plan.shop.same = true;
        let stocked = drawn(&plan);
        (plan.shop.items, plan.shop.kinds) = Default::default();
        let mut plain = drawn(&plan);
        // The page of the shop stands in where the spec says nothing of it: both have one.
        plain.shop.kinds.insert("own-other".to_owned(), ("tap".to_owned(), "like = \"tap\"\n".to_owned()));
        let (one, other) = (plain.load(), stocked.load());
        let (one, other) = (pipeline::work_out(&one).expect("profile"), pipeline::work_out(&other).expect("profile"));
        let told = |worked: &pipeline::Worked<'_>| {
            let mut all: Vec<String> = worked.findings.iter().map(|f| format!("{} {}", f.name, f.headline)).collect();
            all.sort();
            all
        };
        prop_assert_eq!(told(&one), told(&other));
        all.set(all.get() + 1);
        if stocked.shop.is_empty() || one.counts().0 > 0 {
            return Ok(());
        }
        taken.set(taken.get() + 1);
        // Marks that links lead to bear the id of the kind.
        let named = |text: String| stocked.shop.kinds.iter().fold(text, |text, (id, (base, _))| text.replace(id, base));
        let made = |worked: &pipeline::Worked<'_>| {
            let sheets = pipeline::sheets(worked, &Only::default()).expect("documents");
            // Findings stand in the order of their places, and some of these are in the folder now.
            let lines = |text: String| {
                let mut lines: Vec<String> = named(text).lines().map(str::to_owned).collect();
                lines.sort();
                lines
            };
            sheets.into_iter().map(|sheet| (sheet.stem, lines(sheet.markdown))).collect::<Vec<_>>()
        };
        for ((stem, one), (_, other)) in made(&one).into_iter().zip(made(&other)) {
            prop_assert_eq!(one, other, "{}", stem);
        }
        Ok(())
    });
    assert!(taken.get() * 2 >= all.get(), "only {} of {} builds took anything", taken.get(), all.get());
}

#[test]
fn what_was_there_is_left_alone() {
    let held = Cell::new(0);
    hold("tests/proptest-regressions/scope.txt", 4, &builds(), |draft| {
        let spec = draft.text().parse().expect("TOML");
        held.set(held.get() + crate::scope::existing_parts_are_left_alone(&draft.house(), &spec));
        Ok(())
    });
    assert!(held.get() > 20, "only {} components were there", held.get());
}

#[test]
fn a_hidden_part_stays_hidden() {
    let (all, held) = (Cell::new(0), Cell::new(0));
    hold("tests/proptest-regressions/hidden.txt", 8, &builds(), |draft| {
        all.set(all.get() + 1);
        held.set(held.get() + usize::from(crate::hidden::holds(&draft.house(), &draft.text())));
        Ok(())
    });
    assert!(held.get() * 2 >= all.get(), "only {} of {} builds have a panel", held.get(), all.get());
}

#[test]
fn builds_hold_together() {
    let (all, clean, circuits, stays, largest) = (Cell::new(0), Cell::new(0), Cell::new(0), Cell::new(0), Cell::new(0));
    let (judged, negatives) = (Cell::new(0), Cell::new(0));
    let (breaking, paths) = (Cell::new(0), Cell::new(0));
    let published = crate::acceptance::published();
    let (held, other_volts) = (Cell::new(0), Cell::new(0));
    let add = |to: &Cell<usize>, more: usize| to.set(to.get() + more);
    hold("tests/proptest-regressions/builds.txt", 12, &builds(), |draft| {
        let loaded = draft.load();
        let worked = pipeline::work_out(&loaded).expect("profile");
        add(&all, 1);
        faulty::are_told_well(&worked.findings, &loaded.file);
        figures::are_numbers(&worked);
        let orders = crate::orders::faults(&worked);
        prop_assert!(orders.is_empty(), "{}", orders.join("\n"));
        add(&breaking, judged_as_told(&worked));
        add(&paths, ac_is_protected_or_told(&worked));
        add(&circuits, figures::currents_add_up(&worked));
        add(&other_volts, networks::are_kept_apart(&worked));
        add(&held, lines::carry_what_hangs_on_them(&worked));
        add(&judged, crate::acceptance::limits_tell_good_from_bad(&worked, &published).iter().sum());
        add(&negatives, crate::polarity::negatives_end_on_negatives(&worked));
        crate::loads::no_test_overloads_what_it_tests(&worked);
        add(&held, carried::conductors_carry(&worked));
        add(&held, carried::devices_carry(&worked));
        add(&held, carried::everything_is_wired(&worked));
        add(&held, crate::wire::rings_are_sold(&worked));
        add(&stays, account_of("drawn", &worked));
        crate::mechanics::struts_are_told(&worked);
        crate::printed_limits::limits_are_on_the_safe_side(&worked);
        largest.set(largest.get().max(worked.build.parts.len()));
        if worked.findings.iter().any(|f| f.severity == Severity::Error) {
            if std::env::var_os("RIGBINDER_CASES").is_some() {
                let names = worked.findings.iter().filter(|f| f.severity == Severity::Error).map(|f| f.name);
                println!("errors: {:?}", names.collect::<BTreeSet<_>>());
            }
            return Ok(());
        }
        add(&clean, 1);
        let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
        files::are_well_formed(&sheets);
        add(&held, carried::cables_are_listed(&worked, &sheets));
        let data = pipeline::data(&worked).expect("data");
        files::are_data(&data);
        let again = draft.load();
        let again = pipeline::work_out(&again).expect("profile");
        assert!(pipeline::sheets(&again, &Only::default()).expect("documents") == sheets, "two runs differ");
        assert!(pipeline::data(&again).expect("data") == data, "two runs differ in their data");
        Ok(())
    });
    let (all, clean) = (all.get(), clean.get());
    println!(
        "{clean} of {all} builds without errors, {} circuits added up, {} stays balanced, at most {} components",
        circuits.get(),
        stays.get(),
        largest.get()
    );
    assert!(clean * 2 >= all, "only {clean} of {all} builds drawn have no error");
    assert!(judged.get() > all && negatives.get() > all, "{} limits, {} negatives", judged.get(), negatives.get());
    assert!(other_volts.get() > all, "only {} circuits of 24 V and 48 V", other_volts.get());
    assert!(breaking.get() > all && paths.get() > 0, "hardly a device was judged");
    assert!(
        circuits.get() > all && stays.get() > 0 && held.get() > all * 10 && largest.get() >= 10,
        "the builds drawn are poor"
    );
}
