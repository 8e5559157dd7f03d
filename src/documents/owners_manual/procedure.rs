//! Procedures of the whole van: the shares of its parts in the order of the states.

use super::data::VanShare;
use super::whole::Whole;
use crate::build::share_of_parts;
use crate::documents::CautionView;
use crate::documents::alike::Teller;
use crate::kinds::{InOrder, Step};
use indexmap::IndexSet;
use serde::Serialize;

/// A procedure, told step by step.
#[derive(Clone, Debug, Default, Serialize)]
pub(crate) struct ProcedureView {
    /// Safety messages before its steps.
    pub cautions: Vec<CautionView>,
    /// Steps as Markdown.
    pub steps: Vec<String>,
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
        steps.push(share_of_parts(build, states, share, &[part]));
        tells.push((teller.cautions(&[part], &share.cautions), lines));
    }
    for text in texts.iter().filter(|text| text.of == of && whole.has(&text.aboard)) {
        steps.push(Step::of_van(states, &text.needs, &text.brings));
        tells.push((Vec::new(), vec![whole.text(&text.step)]));
    }
    let order = InOrder::of(&steps).order;
    // What is told once for several stands once; what is not to do needs no warning.
    let (mut cautions, mut steps) = (Vec::new(), IndexSet::new());
    for (warnings, lines) in order.into_iter().map(|place| &tells[place]) {
        let lines: Vec<&String> = lines.iter().filter(|line| !line.is_empty()).collect();
        for caution in warnings.iter().filter(|_| !lines.is_empty()) {
            if !cautions.contains(caution) {
                cautions.push(caution.clone());
            }
        }
        steps.extend(lines.into_iter().cloned());
    }
    ProcedureView { cautions, steps: steps.into_iter().collect() }
}
