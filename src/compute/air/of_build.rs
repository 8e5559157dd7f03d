//! Applies the filling of tyres to a build and enters the figures in the ledger.

use super::{AirFigures, Filling, fill};
use crate::build::{Build, Part};
use crate::compute::formulas::air as f;
use crate::compute::ledger::{Amount, Ledger};
use crate::fields::Field;
use crate::kinds::Air;
use crate::units::{Dimension, Kilopascals, Ratio, Seconds};

impl AirFigures {
    /// The compressed air of `build`. What the spec leaves out gives no figure.
    pub fn compute(build: &Build<'_>, ledger: &mut Ledger) -> Self {
        let of = |role: Air| build.parts.values().filter(move |p| p.kind.air.is_some_and(|a| a.role == role));
        let mut fillings = Vec::new();
        for compressor in of(Air::Compressor) {
            for tyres in of(Air::Tyres) {
                let track = ("track", "from track pressure", tyres.roles.pressure_track());
                let sand = ("sand", "from sand pressure", tyres.roles.pressure_sand());
                for from in [track, sand] {
                    fillings.extend(filling(compressor, tyres, from, ledger));
                }
            }
        }
        Self { fillings }
    }
}

fn filling(
    compressor: &Part<'_>,
    tyres: &Part<'_>,
    (id, state, lowered): (&str, &'static str, &Field<Kilopascals>),
    ledger: &mut Ledger,
) -> Option<Filling> {
    let wheels = tyres.roles.wheels().get()?;
    #[expect(clippy::cast_precision_loss, reason = "the reader bounds counts far below 2^52")]
    let wheels = wheels.max(0) as f64;
    let volume = tyres.roles.tyre_volume().get()?.0;
    let (front, rear) = (tyres.roles.pressure_front().get()?.0, tyres.roles.pressure_rear().get()?.0);
    let (from, to) = (lowered.get()?.0, f64::midpoint(front, rear));
    let delivery = compressor.roles.free_air_delivery().get()?.0;
    let running = fill::running_time(fill::free_air(wheels, volume, from, to), delivery)?;
    let longest_run = compressor.roles.max_run().get().map(|s| s.0);
    let duty = compressor.roles.duty_limit().get()?.0;
    let total = longest_run.and_then(|l| fill::with_pauses(running, l, duty));
    let subject = format!("{}.{id}", compressor.id);
    let inputs = vec![
        wheels.into(),
        Amount::Of(Dimension::Volume, volume),
        Amount::Of(Dimension::Pressure, from),
        Amount::Of(Dimension::Pressure, to),
        Amount::Of(Dimension::Flow, delivery),
    ];
    ledger.enter(&f::FILL_TIME, &subject, Seconds(running), inputs, None);
    if let (Some(total), Some(longest)) = (total, longest_run) {
        let inputs = vec![Seconds(running).into(), Seconds(longest).into(), Ratio(duty).into()];
        ledger.enter(&f::FILL_TIME_PAUSES, &subject, Seconds(total), inputs, None);
    }
    Some(Filling {
        compressor: compressor.id.clone(),
        tyres: tyres.id.clone(),
        state,
        from_track: id == "track",
        from,
        to,
        highest: front.max(rear),
        running,
        longest_run,
        total,
        max_pressure: compressor.roles.max_pressure().get().map(|p| p.0),
    })
}
