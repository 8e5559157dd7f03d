//! Procedures of the whole van: the shares of its parts in the order of the states.

use super::data::VanShare;
use super::whole::Whole;
use crate::build::{share_of_parts, share_of_van};
use crate::documents::CautionView;
use crate::documents::alike::Teller;
use crate::kinds::InOrder;
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
        steps.push(share_of_van(states, &text.needs, &text.brings));
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
