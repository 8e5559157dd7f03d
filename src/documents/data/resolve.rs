//! Fills the format of `data/build.json` from a build and its figures.

use super::whole::{
    AcceptedOut, AmountOut, CableOut, CircuitOut, Component, Field, FieldValue, Fields, FigureOut, FindingOut, FuseOut,
    LimitOut, PanelOut, PriceOut, QuantityOut, RecordedOut, TaskOut, UpkeepOut, VERSION, WeightOut, Whole, WrittenOut,
};
use crate::build::{Circuit, Part};
use crate::compute::electrical::size::Sized;
use crate::compute::formulas;
use crate::compute::ledger::{Amount, Figure, Holds};
use crate::compute::network::{CircuitFigures, DeviceAt, colours};
use crate::compute::weight::cases::Case;
use crate::diag::{Finding, Severity};
use crate::documents::Context;
use crate::documents::alike::plain;
use crate::documents::schedule::circuits::governed;
use crate::documents::shared::{self, cable, fuses};
use crate::fields::{Record, Value};
use crate::source::Spanned;
use crate::units::Quantity;
use indexmap::IndexMap;

/// Everything of a build.
#[must_use]
pub(crate) fn whole(context: &Context<'_>) -> Whole {
    let build = context.build;
    let spec = build.spec;
    let circuits = build.circuits.values();
    let circuits =
        circuits.filter_map(|c| Some((c.id.clone(), circuit(context, c, context.electrical.circuits.get(&c.id)?))));
    let panel = |(id, p): (&String, &crate::compute::network::Panel)| {
        let out = PanelOut { carried_a: p.carried.0, rating_a: p.rating.map(|r| r.0), used: p.used, ways: p.ways };
        (id.clone(), out)
    };
    let fuse = |f: fuses::FuseRow| FuseOut { device: f.device, fitted: f.fitted, spare: f.spare };
    Whole {
        version: VERSION,
        rigbinder: env!("CARGO_PKG_VERSION").to_owned(),
        rules: context.electrical.profile.name.clone(),
        build: fields(&spec.build),
        vehicle: fields(&spec.vehicle),
        usage: fields(&spec.usage),
        goals: fields(&spec.goals),
        climates: sections(&spec.climates),
        shell: sections(&spec.shell),
        places: sections(&spec.places),
        channels: sections(&spec.channels),
        stages: sections(&spec.stages),
        contacts: sections(&spec.contacts),
        components: build.parts.values().map(|p| (p.id.clone(), component(p))).collect(),
        removed: build.removed.values().map(|p| (p.id.clone(), component(p))).collect(),
        circuits: circuits.collect(),
        panels: context.electrical.panels.iter().map(panel).collect(),
        cable: cable::cut_lines(context).into_iter().map(cable_line).collect(),
        fuses: fuses::fuse_list(context).into_iter().map(fuse).collect(),
        tasks: super::work::planned(context).into_iter().map(|t| task(context, t)).collect(),
        upkeep: super::work::entries(context).iter().map(|e| upkeep(context, e)).collect(),
        figures: context.ledger.figures().map(figure).collect(),
        weights: context.weight.cases.iter().map(weight).collect(),
        findings: context.findings.iter().map(|f| finding(context, f)).collect(),
        recorded: RecordedOut {
            serials: texts(&spec.recorded.serials),
            readings: texts(&spec.recorded.readings),
            signed: spec.recorded.signed.keys().map(|k| (k.clone(), shared::signed(build, k))).collect(),
            weights: fields(&spec.recorded.weights),
        },
    }
}

fn texts(map: &IndexMap<String, Spanned<String>>) -> IndexMap<String, String> {
    map.iter().map(|(k, v)| (k.clone(), v.value.clone())).collect()
}

fn sections(records: &IndexMap<String, Record>) -> IndexMap<String, Fields> {
    records.iter().map(|(id, record)| (id.clone(), fields(record))).collect()
}

fn fields(record: &Record) -> Fields {
    let field = |(name, entry): (&String, &crate::fields::Entry)| {
        (name.clone(), Field { given: entry.given, value: value(&entry.value) })
    };
    record.open().map(field).collect()
}

fn written(quantity: &Quantity) -> WrittenOut {
    WrittenOut {
        value: quantity.value,
        unit: quantity.dimension.inside_unit().to_owned(),
        written: quantity.written.clone(),
    }
}

fn value(value: &Value) -> FieldValue {
    match value {
        Value::Quantity(q) => FieldValue::Quantity(written(q)),
        Value::Quantities(all) => FieldValue::Quantities(all.iter().map(|q| written(&q.value)).collect()),
        Value::Points(all) => FieldValue::Points(all.iter().map(|p| p.value.iter().map(written).collect()).collect()),
        Value::Text(t) | Value::Prose(t) | Value::Choice(t) => FieldValue::Text(t.clone()),
        Value::Flag(flag) => FieldValue::Flag(*flag),
        Value::Count(n) => FieldValue::Count(*n),
        Value::Date(date) => FieldValue::Text(date.to_string()),
        Value::Components(l) | Value::Places(l) | Value::Texts(l) => {
            FieldValue::List(l.iter().map(|i| i.value.clone()).collect())
        }
        Value::Conductor(size) => FieldValue::Text(size.to_string()),
        Value::Price { currency, amount } => {
            FieldValue::Price(PriceOut { currency: currency.clone(), amount: *amount })
        }
        Value::Rows(rows) => FieldValue::Rows(rows.iter().map(fields).collect()),
        Value::Parts(parts) => {
            FieldValue::Parts(parts.iter().map(|(id, own)| (id.value.clone(), fields(own))).collect())
        }
        Value::Choices(words) => {
            FieldValue::Words(words.iter().map(|(field, word)| (field.value.clone(), word.value.clone())).collect())
        }
    }
}

fn component(part: &Part<'_>) -> Component {
    Component {
        kind: part.kind.id.clone(),
        system: part.kind.system.id().to_owned(),
        name: part.name.clone(),
        count: part.count,
        secret: part.confidential,
        places: part.places.clone(),
        fields: fields(part.record),
    }
}

fn circuit(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> CircuitOut {
    let sized = figures.conductor();
    CircuitOut {
        network: shared::network_name(circuit.network).to_owned(),
        from: circuit.from.clone(),
        to: circuit.to.clone(),
        way: circuit.way,
        vehicle: figures.device.at == DeviceAt::Vehicle,
        nominal_v: figures.nominal.0,
        load_a: figures.demand.load.0,
        design_a: figures.design.0,
        protection: shared::protection(context.build, &figures.device),
        protection_a: figures.device.rating.map(|r| r.0),
        conductor: sized.map(Sized::show),
        section_mm2: sized.map(|s| s.size.area().0 * s.shares()),
        ampacity_a: sized.and_then(|s| s.ampacity.as_ref()).map(|a| a.corrected.0),
        governed_by: sized.map(|s| governed(s.governed_by).to_owned()),
        run_m: circuit.run.map(|r| r.0),
        through: circuit.through.clone(),
        colours: colours(context.build, circuit, &context.electrical.profile.colours),
        conductor_ohm: figures.acceptance.map(|a| a.good.conductor.0),
        conductor_ohm_most: figures.acceptance.map(|a| a.good.conductor_most.0),
        drop: sized.filter(|_| figures.run_known).map(|s| s.drop.share.0),
        drop_limit: figures.drop_limit.0,
        fault_a: figures.fault.map(|s| s.current.0),
        breaks_a: figures.device.breaks.credited().filter(|_| figures.breaking.is_some()).map(|a| a.0),
        breaking: figures.breaking.map(|b| b.words().to_owned()),
    }
}

fn cable_line(line: cable::CutLine) -> CableOut {
    CableOut {
        size: line.size.to_string(),
        conductor: line.core.show(),
        colour: line.colour,
        pieces: line.pieces,
        length_m: line.length.0,
        longest_m: line.longest.0,
        to_measure: line.to_measure,
    }
}

fn task(context: &Context<'_>, (task, times): super::work::Planned<'_>) -> TaskOut {
    TaskOut {
        id: task.id.clone(),
        title: plain(&shared::task_title(context, task)),
        stage: task.stage.id().to_owned(),
        component: task.part.clone(),
        minutes: task.minutes,
        people: task.people,
        after: task.after.ids().map(str::to_owned).collect(),
        start: times.map(|t| t.start),
        slack: times.map(|t| t.slack),
        signed: Some(shared::signed(context.build, &task.id)).filter(|s| !s.is_empty()),
    }
}

fn upkeep(context: &Context<'_>, entry: &super::work::Entry<'_>) -> UpkeepOut {
    UpkeepOut {
        id: entry.id(),
        component: entry.component().to_owned(),
        title: entry.title(context),
        due: entry.due().map(|d| d.to_string()),
        often: entry.often(),
        or_after: entry.or_after(),
        by: entry.by().to_owned(),
        minutes: entry.minutes(),
    }
}

fn amount(amount: &Amount) -> AmountOut {
    match amount {
        Amount::Of(dimension, value) => {
            AmountOut::Of(QuantityOut { value: *value, unit: dimension.inside_unit().to_owned() })
        }
        Amount::Word(word) => AmountOut::Word(word.clone()),
    }
}

fn figure(figure: &Figure) -> FigureOut {
    let formula = formulas::by_id(figure.formula);
    let symbols = formula.map_or(&[][..], |f| f.symbols);
    FigureOut {
        id: figure.id.clone(),
        formula: figure.formula.to_owned(),
        name: formula.map_or("", |f| f.name).to_owned(),
        subject: figure.subject.clone(),
        value: amount(&figure.value),
        inputs: symbols.iter().zip(&figure.inputs).map(|((s, _), a)| ((*s).to_owned(), amount(a))).collect(),
        limit: figure.limit.as_ref().map(|l| LimitOut {
            bound: amount(&l.bound),
            at_most: l.holds != Holds::AtLeast,
            either_way: l.holds == Holds::Within,
            kept: l.kept,
            not_judged: Some(figure.open()).filter(|o| !o.is_empty()),
        }),
    }
}

fn weight(case: &Case) -> WeightOut {
    WeightOut {
        id: case.id.id().to_owned(),
        title: case.id.title().to_owned(),
        front_kg: case.axles.front.0,
        rear_kg: case.axles.rear.0,
        total_kg: case.total().0,
        left_kg: case.left.map(|m| m.0),
        behind_front_m: case.behind_front.map(|m| m.0),
        height_m: case.height.map(|m| m.0),
    }
}

fn finding(context: &Context<'_>, finding: &Finding) -> FindingOut {
    let build = context.build;
    let about = finding.subject.as_ref().and_then(|s| build.parts.get(s));
    let secret = about.is_some_and(|p| p.confidential);
    FindingOut {
        name: finding.name.to_owned(),
        severity: match finding.severity {
            Severity::Error => "error",
            Severity::AsFound => "as-found",
            Severity::Warning => "warning",
        }
        .to_owned(),
        subject: finding.subject.clone(),
        headline: (!secret).then(|| finding.headline.clone()),
        accepted: finding.accepted.as_ref().map(|a| AcceptedOut { reason: a.reason.clone(), by: a.by.clone() }),
    }
}
