//! Applies the weight formulas to a build and enters the figures in the ledger.

use super::aboard::Aboard;
use super::cases::{Base, Case, CaseId, case};
use super::{Label, Payload, SIDES, Weight, items, label, measured, ratings, statics};
use crate::build::{Build, Part};
use crate::compute::formulas::weight as f;
use crate::compute::ledger::{Amount, Ledger, at_least, at_most, within};
use crate::fields::Field;
use crate::kinds::Content;
use crate::units::{Kilograms, Metres, Ratio, significant};

impl Weight {
    /// The weight figures of `build`. What the spec leaves out gives no figure.
    pub fn compute(build: &Build<'_>, ledger: &mut Ledger) -> Self {
        let person = items::person(build);
        let items = items::items(build, person);
        let base = Base::of(build, &items);
        let cases: Vec<Case> = base.iter().flat_map(|b| CaseId::ALL.map(|id| case(id, b, &items))).collect();
        let on_roof = || items.all.iter().filter(|i| i.roof && i.content != Some(Content::People));
        let roof = on_roof().map(|i| i.mass).sum();
        let roof_known = on_roof().filter(|i| !i.usual && i.roof_said).map(|i| i.mass).sum();
        let loadings = ratings::loadings(build, &items);
        let driving = build.parts.values().filter_map(|p| ratings::driving(build, &items, p)).collect();
        let measured = base.map_or_else(Vec::new, |b| measured::compare(build, &b, &items, person));
        let finished = cases.iter().find(|c| c.id == CaseId::AsBuilt);
        let water: Kilograms =
            items.all.iter().filter(|i| i.content == Some(Content::FreshWater)).map(|i| i.mass).sum();
        let label = finished.and_then(|c| label_of(build, c, water));
        let payload = finished.and_then(|c| payload_of(build, c, water));
        let weight = Self { items, base, cases, roof, roof_known, loadings, driving, measured, label, payload };
        weight.enter(build, ledger);
        weight
    }

    fn enter(&self, build: &Build<'_>, ledger: &mut Ledger) {
        let vehicle = &build.vehicle;
        let out = self.left_out();
        let bound = |field: &Field<Kilograms>| field.get().map(|l| at_most(l).leaving_out(out.clone()));
        if let Some(Base { bare, wheelbase, .. }) = self.base.filter(|_| Aboard::of(build).stays) {
            for (formula, value, weighed) in [
                (&f::BARE_FRONT, bare.empty.front, bare.weighed.front),
                (&f::BARE_REAR, bare.empty.rear, bare.weighed.rear),
            ] {
                let inputs = vec![weighed.into(), bare.stays.into(), bare.leaves.into(), wheelbase.into()];
                ledger.enter(formula, "vehicle", value, inputs, None);
            }
        }
        for case in &self.cases {
            let Some(base) = self.base else { continue };
            let id = case.id.id();
            for (formula, value, empty, field) in [
                (&f::FRONT_AXLE, case.axles.front, base.empty.front, &vehicle.front_axle_limit),
                (&f::REAR_AXLE, case.axles.rear, base.empty.rear, &vehicle.rear_axle_limit),
            ] {
                let inputs = vec![empty.into(), case.added.into(), base.wheelbase.into(), case.unplaced.into()];
                ledger.enter(formula, id, value, inputs, bound(field));
            }
            let inputs = vec![case.axles.front.into(), case.axles.rear.into()];
            ledger.enter(&f::TOTAL_MASS, id, case.total(), inputs, bound(&vehicle.gross_mass));
            enter_balance(&base, case, ledger);
        }
        if let Some(limit) = vehicle.roof_load_limit.get() {
            ledger.enter(&f::ROOF_LOAD, "roof", self.roof, vec![limit.into()], bound(&vehicle.roof_load_limit));
        }
        for l in &self.loadings {
            let subject = l.side.map_or_else(|| l.part.clone(), |side| format!("{}.{side}", l.part));
            ledger.enter(&f::RATED_LOAD, &subject, l.load, vec![l.limit.into()], Some(at_most(l.limit)));
        }
        for d in &self.driving {
            let parked = build.parts.get(&d.part).and_then(|p| parked(p)).unwrap_or_default();
            let left = d.left.map_or_else(|| Amount::Word("no roof load limit given".to_owned()), Amount::from);
            ledger.enter(&f::DRIVING_LIMIT, &d.part, d.limit, vec![d.rated.into(), parked.into(), left], None);
        }
        self.enter_labels(build, ledger);
        for m in &self.measured {
            let inputs = vec![m.measured.into(), m.computed.into(), m.tolerance.into()];
            let allowed = m.computed * m.tolerance.0;
            ledger.enter(&f::WEIGHED, m.title(), m.difference(), inputs, Some(within(allowed)));
        }
    }

    fn enter_labels(&self, build: &Build<'_>, ledger: &mut Ledger) {
        let eu = build.about.rules.is("eu");
        if let Some(l) = self.label.filter(|_| !eu) {
            let belted = l.belted.map_or_else(|| Amount::Word("seats not given".to_owned()), Amount::from);
            let limit = l.belted.map(|b| at_least(b).leaving_out(self.left_out()));
            let inputs = vec![l.gross.into(), l.unloaded.into(), l.water.into(), belted];
            ledger.enter(&f::CARGO_CAPACITY, "vehicle", l.capacity, inputs, limit);
            let told = if l.added.0 > l.threshold.0 { "to be told on a label" } else { "need not be told" };
            ledger.enter(&f::ADDED_MASS, "vehicle", l.added, vec![l.threshold.into(), told.to_owned().into()], None);
        }
        if let (Some(p), Some(l), true) = (self.payload, self.label, eu) {
            let inputs = vec![l.unloaded.into(), l.water.into(), label::EU_PERSON.into()];
            ledger.enter(&f::RUNNING_ORDER, "vehicle", p.running_order, inputs, None);
            let inputs = vec![l.gross.into(), p.running_order.into(), p.people.into(), p.length.into()];
            let limit = Some(at_least(p.least).leaving_out(self.left_out()));
            ledger.enter(&f::PAYLOAD, "vehicle", p.payload, inputs, limit);
        }
    }
}

/// What a rack may carry while parked.
fn parked(part: &Part<'_>) -> Option<Kilograms> {
    let parked = part.masses.as_ref()?.rating.as_ref()?.parked.as_ref()?;
    Some(parked.get()? * part.times())
}

fn enter_balance(base: &Base, case: &Case, ledger: &mut Ledger) {
    let id = case.id.id();
    if let (Some(left), Some(track), Some(difference)) = (case.left, base.track, case.imbalance()) {
        ledger.enter(&f::LEFT_SIDE, id, left, vec![case.total().into(), track.into()], None);
        ledger.enter(&f::RIGHT_SIDE, id, case.total() - left, vec![case.total().into(), left.into()], None);
        let limit = Some(at_most(Ratio(SIDES)));
        ledger.enter(&f::SIDES_APART, id, Ratio(difference), vec![left.into(), case.total().into()], limit);
    }
    if let Some(aft) = case.behind_front {
        let inputs = vec![base.wheelbase.into(), case.axles.rear.into(), case.total().into()];
        ledger.enter(&f::CENTRE_AFT, id, aft, inputs, None);
    }
    if let (Some(height), Some(own)) = (case.height, base.empty_height) {
        let factor = base.track.and_then(|t| statics::stability(t, height));
        let factor =
            factor.map_or_else(|| Amount::Word("no track given".to_owned()), |f| Amount::Word(significant(f, 3)));
        ledger.enter(&f::CENTRE_HEIGHT, id, height, vec![own.into(), factor], None);
    }
}

fn label_of(build: &Build<'_>, finished: &Case, water: Kilograms) -> Option<Label> {
    let vehicle = &build.vehicle;
    let gross = vehicle.gross_mass.get()?;
    Some(Label {
        gross,
        unloaded: finished.total(),
        capacity: label::cargo_capacity(gross, finished.total()),
        belted: vehicle.seats.get().map(|n| label::US_PERSON * items::count(n)),
        water,
        added: finished.added,
        threshold: label::disclosure_threshold(gross),
    })
}

fn payload_of(build: &Build<'_>, finished: &Case, water: Kilograms) -> Option<Payload> {
    let vehicle = &build.vehicle;
    let gross = vehicle.gross_mass.get()?;
    let people = items::count(vehicle.seats.get()?);
    let length: Metres = vehicle.length.get()?;
    let running_order = finished.total() + water + label::EU_PERSON;
    let payload = gross - running_order - label::EU_PERSON * (people - 1.0).max(0.0);
    Some(Payload { running_order, payload, least: label::least_payload(people, length), people, length })
}
