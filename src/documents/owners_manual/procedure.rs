//! Procedures of the whole van: the shares of its parts in the order of the states.

use super::data::VanShare;
use super::whole::Whole;
use crate::build::{Build, Part};
use crate::documents::CautionView;
use crate::documents::alike::Teller;
use crate::kinds::{InOrder, Key, Need, Share, States, Step};
use serde::Serialize;

/// A procedure, told step by step.
#[derive(Clone, Debug, Default, Serialize)]
pub struct ProcedureView {
    /// Safety messages before its steps.
    pub cautions: Vec<CautionView>,
    /// Steps as Markdown.
    pub steps: Vec<String>,
}

/// The share of parts as a step among those of others.
pub(super) fn step(build: &Build<'_>, states: &States, share: &Share, parts: &[&Part<'_>]) -> Step {
    let mut step = of_van(states, &share.needs, &share.brings);
    for (of, state) in share.needs.iter().filter_map(|need| match Need::read(need) {
        Need::Of(of, state) => Some((of, state)),
        Need::Plain(_) => None,
    }) {
        for part in parts {
            let named = part.record.list(of);
            let key = |id: &String| (id.clone(), state.to_owned());
            if named.is_empty() {
                let has_role = build.parts.values().filter(|p| p.kind.roles.contains(&of));
                step.needs.extend(has_role.map(|p| key(&p.id)));
            } else {
                step.needs.extend(named.iter().map(|id| key(&id.value)));
            }
        }
    }
    for state in share.brings.iter().filter(|state| !states.is_of_van(state)) {
        step.brings.extend(parts.iter().map(|part| (part.id.clone(), state.clone())));
    }
    step
}

/// What a step has to do with states of the van.
fn of_van(states: &States, needs: &[String], brings: &[String]) -> Step {
    let key = |state: &str| -> Key { (String::new(), state.to_owned()) };
    let brought = || brings.iter().filter(|state| states.is_of_van(state)).map(String::as_str);
    let before = states.all_before(brings).into_iter();
    let plain = needs.iter().map(String::as_str).filter(|need| matches!(Need::read(need), Need::Plain(_)));
    Step { needs: plain.chain(before).map(key).collect(), brings: brought().map(key).collect() }
}

/// A procedure that is told on its own: what is told once for several stands once; after the parts the van as a whole.
pub(super) fn told(teller: &Teller<'_>, whole: &Whole<'_, '_>, texts: &[VanShare], of: &str) -> ProcedureView {
    let context = teller.context();
    let (build, states) = (context.build, &context.texts.states);
    let mut steps = Vec::new();
    let mut tells: Vec<(Vec<CautionView>, Vec<String>)> = Vec::new();
    for part in build.parts.values() {
        let Some(share) = part.kind.share(of).filter(|share| share.stands(part.record)) else { continue };
        let lines: Vec<String> = share.steps.iter().map(|text| teller.one(&part.id, text)).collect();
        steps.push(step(build, states, share, &[part]));
        tells.push((teller.cautions(&[part], &share.cautions), lines));
    }
    for text in texts.iter().filter(|text| text.of == of && whole.has(&text.aboard)) {
        steps.push(of_van(states, &text.needs, &text.brings));
        tells.push((Vec::new(), vec![text.step.clone()]));
    }
    let mut all = ProcedureView::default();
    for place in InOrder::of(&steps).order {
        let (cautions, lines) = &tells[place];
        for line in lines.iter().filter(|line| !line.is_empty()) {
            if !all.steps.contains(line) {
                all.steps.push(line.clone());
            }
        }
        // What is not to do needs no warning.
        if lines.iter().any(|line| !line.is_empty()) {
            for caution in cautions {
                if !all.cautions.contains(caution) {
                    all.cautions.push(caution.clone());
                }
            }
        }
    }
    all
}
