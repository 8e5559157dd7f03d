//! Energy and sun: the account of every season balances, and the sun agrees with pvlib on places drawn anew.

use crate::harness::{demo_specs, load};
use crate::outside::run;
use rigbinder::build::{Circuit, Feeding};
use rigbinder::compute::energy::{Load, LoadKind, Season, Stay};
use rigbinder::compute::solar::geometry::{Convention, cos_incidence, cos_zenith, day_length, declination, hour_angle};
use rigbinder::compute::solar::{extraterrestrial, module, tilt};
use rigbinder::kinds::{Network, Role};
use rigbinder::pipeline::{self, Loaded, Worked};
use rigbinder::units::{Celsius, Ratio, Watts};
use std::fmt::Write as _;

/// What our functions say to a row of `tests/outside/solar_live.py`.
fn ours(what: &str, inputs: &[f64]) -> Vec<f64> {
    match (what, inputs) {
        ("declination", &[day]) => [Convention::Cooper, Convention::Spencer].map(|c| declination(day, c)).to_vec(),
        ("day", &[latitude, day]) => {
            let above = [Convention::Cooper, Convention::Spencer].map(|c| extraterrestrial::daily(latitude, day, c));
            vec![above[0], above[1], day_length(latitude, declination(day, Convention::Cooper))]
        }
        ("zenith", &[latitude, day, hours]) => {
            vec![cos_zenith(latitude, declination(day, Convention::Cooper), hour_angle(hours))]
        }
        ("incidence", &[latitude, day, hours, tilt, azimuth]) => {
            let d = declination(day, Convention::Cooper);
            vec![cos_incidence(latitude, d, hour_angle(hours), tilt, azimuth)]
        }
        ("plane", &[beam, diffuse, rb, lean, albedo]) => {
            let plane = tilt::isotropic(beam, diffuse, rb, lean, albedo);
            vec![plane.beam, plane.sky, plane.ground]
        }
        ("cell", &[peak, light, air, noct, per_kelvin]) => {
            let cell = module::cell_temperature(Celsius(air), light, Celsius(noct));
            vec![cell.0, module::power(Watts(peak), light, Ratio(per_kelvin), cell).0]
        }
        other => panic!("{other:?} is no row we know"),
    }
}

/// 150 places, days and skies, worked out by pvlib at test time: 0.1 % of the value or of a unit.
#[test]
fn the_sun_as_pvlib_has_it() {
    let Some((success, table)) = run("solar_live.py", &[]) else { return };
    assert!(success, "{table}");
    let (mut rows, mut worst) = (0, 0.0_f64);
    for row in csv::Reader::from_reader(table.as_bytes()).records() {
        let row = row.expect("a row");
        let numbers = |cell: &str| cell.split(' ').map(|n| n.parse::<f64>().expect("a number")).collect::<Vec<f64>>();
        let (got, expected) = (ours(&row[0], &numbers(&row[1])), numbers(&row[2]));
        assert_eq!(got.len(), expected.len(), "{row:?}");
        for (got, expected) in got.iter().zip(&expected) {
            let error = (got - expected).abs() / expected.abs().max(1.0);
            assert!(error < 1e-3, "{row:?}: {got}");
            worst = worst.max(error);
        }
        rows += 1;
    }
    assert_eq!(rows, 6 * 150);
    assert!(worst < 2e-4, "the worst is off by {worst}");
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

/// Energy in = energy out + losses + change of the store, from what the season says of its day and from where the
/// stay began and ended.
fn balances(name: &str, season: &Season, stay: &Stay, start: f64, offered_day: f64, need_day: f64) {
    let days = stay.hours.len() / 24;
    assert_eq!(stay.hours.len() % 24, 0, "{name}: part of a day");
    #[expect(clippy::cast_precision_loss, reason = "sixty at most")]
    let days = days as f64;
    let sum = |of: fn(&rigbinder::compute::energy::store::Hour) -> f64| stay.hours.iter().map(of).sum::<f64>();
    let (offered, need) = (sum(|h| h.offered), sum(|h| h.need));
    assert!(close(offered, offered_day * days), "{name}: {offered} offered");
    assert!(close(need, need_day * days), "{name}: {need} needed");
    let end = stay.hours.last().map_or(start, |h| h.state);
    let taken_in = offered - stay.surplus.0;
    let out = need - stay.unserved.0 + sum(|h| h.lost) + end - start;
    assert!(close(taken_in, out), "{name}: {taken_in} in, {out} out");
    let mut before = start;
    for hour in &stay.hours {
        assert!(hour.imbalance(before).abs() < 1e-9 * before.max(1.0), "{name}: {hour:?} after {before}");
        assert!(hour.state >= 0.0 && hour.surplus >= 0.0 && hour.unserved >= 0.0 && hour.lost >= -1e-12);
        before = hour.state;
    }
    let light: f64 = season.sun.beam.iter().chain(&season.sun.diffuse).sum();
    let expected = if season.sun.clearness.is_some() { season.sun.irradiation * 1000.0 } else { 0.0 };
    assert!(close(light, expected), "{name}: {light} of light");
}

/// Every season of a spec, driving, parked and on shore power; gives the number of stays.
fn account(name: &str, loaded: &Loaded) -> usize {
    account_of(name, &pipeline::work_out(loaded).expect("profile"))
}

fn supplies(circuit: &Circuit) -> bool {
    circuit.network == Network::Dc && circuit.feeding == Feeding::Supply
}

/// Share of what leaves the bank for a load that arrives there, through the converters before it.
fn arriving(worked: &Worked<'_>, load: &Load) -> f64 {
    // A relay takes for its coil where that is fed from.
    let relay = worked.build.parts.get(&load.part).and_then(|p| p.roles.coil.as_ref());
    let feeder = relay.and_then(|coil| coil.coil_from.first());
    let first = feeder.and_then(|id| worked.build.parts.get(id));
    let above = worked.build.upstream(feeder.unwrap_or(&load.part)).along(supplies).single().parts();
    let converters =
        first.into_iter().chain(above).filter(|p| load.kind == LoadKind::Dc && p.role() == Some(Role::Converter));
    converters.map(|p| p.record.ratio("efficiency").expect("given or usual").0).product()
}

/// What the converters on a bank take without load, in W.
fn idle_converters(worked: &Worked<'_>) -> f64 {
    let build = &worked.build;
    let on_bank = |id: &str| build.upstream(id).along(supplies).parts().any(|p| p.role() == Some(Role::Bank));
    let converters = build.parts.values().filter(|p| p.role() == Some(Role::Converter) && on_bank(&p.id));
    converters.map(|p| p.record.watts("idle_draw").map_or(0.0, |w| w.0) * p.times()).sum()
}

/// The same of a build that is worked out.
pub(crate) fn account_of(name: &str, worked: &Worked<'_>) -> usize {
    let energy = &worked.energy;
    let Some(store) = &energy.store else { return 0 };
    let mut stays = 0;
    for (id, season) in &energy.seasons {
        let name = format!("{name} {id}");
        let day = |hours: &[f64; 24]| hours.iter().sum::<f64>();
        let need =
            day(&season.need.dc) + day(&season.need.ac) + day(&season.need.inverter_loss) + day(&season.need.idle);
        let loads: f64 =
            season.need.loads.iter().map(|(id, hours)| day(hours) / arriving(worked, &energy.loads[id])).sum();
        let loads = loads + 24.0 * idle_converters(worked);
        assert!(close(loads, day(&season.need.dc) + day(&season.need.ac)), "{name}: loads");
        let (sun, engine) = (day(&season.solar.hours), day(&season.engine));
        let arrays: f64 = season.solar.arrays.values().map(|a| day(&a.hours)).sum();
        assert!(sun + season.solar.cut <= arrays * (1.0 + 1e-9), "{name}: more sun than the arrays give");
        for (stay, offered) in [(&season.driving, sun + engine), (&season.parked, sun)] {
            let Some(stay) = stay else { continue };
            balances(&name, season, stay, store.full.0, offered, need);
            stays += 1;
        }
        if let Some(stay) = &season.shore {
            let offered = stay.hours.iter().map(|h| h.offered).sum();
            balances(&name, season, stay, store.reserve.0, offered, day(&season.need.dc));
            stays += 1;
        }
    }
    stays
}

#[test]
fn energy_is_kept_in_every_season_of_every_demo() {
    let stays: Vec<usize> = demo_specs().iter().map(|path| account(&path.display().to_string(), &load(path))).collect();
    assert!(stays.iter().all(|n| *n > 0), "{stays:?}");
}

/// A spec drawn at random: bank, loads, arrays, chargers and seasons of any kind, polar night among them.
fn random_spec(draw: &mut impl FnMut(f64, f64) -> f64) -> String {
    let mut spec =
        "spec = 2\n[build]\ntitle = \"Drawn\"\nhandover = 2027-05-14\n[place]\nvan = { zone = \"cabin\" }\n".to_owned();
    let (nights, hours) = (draw(0.0, 8.0).floor(), draw(0.0, 12.0));
    writeln!(spec, "[use]\ngoals.nights = {nights}\ndriving = \"{hours:.2} h\"").expect("text");
    for season in 0..3 {
        let (month, latitude, low) = (draw(1.0, 12.99).floor(), draw(-75.0, 75.0), draw(-35.0, 25.0));
        let sky = extraterrestrial::daily(
            latitude,
            extraterrestrial::MEAN_DAYS[0] + 30.4 * (month - 1.0),
            Convention::Cooper,
        );
        let (irradiation, high) = (sky / 3.6 * draw(0.0, 0.8), low + draw(0.0, 18.0));
        writeln!(
            spec,
            "[climate.s{season}]\nmonth = {month}\nlatitude = \"{latitude:.2} °\"\nirradiation = \"{irradiation:.3} kWh/m2\"\nlow = \"{low:.1} °C\"\nhigh = \"{high:.1} °C\"\nalbedo = \"{:.0} %\"",
            draw(0.0, 90.0)
        )
        .expect("text");
    }
    let chemistry = if draw(0.0, 1.0) < 0.5 { "lfp" } else { "agm" };
    let (capacity, usable, limit) = (draw(20.0, 900.0), draw(20.0, 100.0), draw(10.0, 200.0));
    write!(
        spec,
        "[component]\nbank = {{ kind = \"battery-bank\", chemistry = \"{chemistry}\", capacity = \"{capacity:.0} Ah\", usable = \"{usable:.0} %\", max_charge = \"{limit:.0} A\", max_discharge = \"{limit:.0} A\", place = \"van\" }}\nbus = {{ kind = \"busbar\", fed_from = \"bank\", place = \"van\" }}\n"
    )
    .expect("text");
    for n in 0..2 {
        let (power, lean, shade, amps) = (draw(20.0, 400.0), draw(0.0, 60.0), draw(0.0, 60.0), draw(5.0, 40.0));
        let kind = if n == 0 { "solar-array" } else { "portable-array" };
        writeln!(
            spec,
            "a{n} = {{ kind = \"{kind}\", power = \"{power:.0} W\", voc = \"22 V\", isc = \"9 A\", vmp = \"18 V\", imp = \"8 A\", tilt = \"{lean:.0} °\", shading = \"{shade:.0} %\", place = \"van\" }}\nc{n} = {{ kind = \"solar-controller\", fed_from = \"a{n}\", feeds = \"bus\", output_current = \"{amps:.0} A\", place = \"van\" }}"
        )
        .expect("text");
    }
    let (engine, shore, idle) = (draw(5.0, 60.0), draw(5.0, 60.0), draw(0.0, 40.0));
    writeln!(
        spec,
        "starter = {{ kind = \"starter-battery\", place = \"van\" }}\ndcdc = {{ kind = \"dc-dc-charger\", fed_from = \"starter\", feeds = \"bus\", output_current = \"{engine:.0} A\", place = \"van\" }}\ninlet = {{ kind = \"shore-inlet\", rating = \"16 A\", place = \"van\" }}\nshore = {{ kind = \"shore-charger\", fed_from = \"inlet\", feeds = \"bus\", output_current = \"{shore:.0} A\", place = \"van\" }}\ninverter = {{ kind = \"inverter\", fed_from = \"bus\", power = \"2000 W\", idle_draw = \"{idle:.0} W\", feeds = \"unit\", place = \"van\" }}\nunit = {{ kind = \"consumer-unit\", rating = \"15 A\", place = \"van\" }}\ncooktop = {{ kind = \"cooktop-induction\", fed_from = \"unit\", place = \"van\" }}"
    )
    .expect("text");
    let kinds = [
        "fridge",
        "air-heater",
        "air-conditioner",
        "tank-pad",
        "light-zone",
        "usb-outlet",
        "water-pump",
        "router",
        "air-compressor",
    ];
    for (n, kind) in kinds.iter().enumerate() {
        let count = draw(1.0, 3.99).floor();
        writeln!(spec, "l{n} = {{ kind = \"{kind}\", fed_from = \"bus\", count = {count}, place = \"van\" }}")
            .expect("text");
    }
    spec
}

#[test]
fn energy_is_kept_in_specs_drawn_at_random() {
    let mut state = 44_u64;
    let mut draw = |low: f64, high: f64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * f64::from(u32::try_from(state >> 32).unwrap_or(0)) / f64::from(u32::MAX)
    };
    let mut stays = 0;
    for n in 0..60 {
        let text = random_spec(&mut draw);
        let loaded = pipeline::load(crate::harness::house(), "drawn.toml", text.as_bytes()).expect("kinds");
        assert!(
            loaded.findings.iter().all(|f| f.severity != rigbinder::diag::Severity::Error),
            "{text}\n{:?}",
            loaded.findings
        );
        stays += account(&format!("drawn {n}"), &loaded);
    }
    assert!(stays > 400, "only {stays} stays");
}

/// One case from the spec to the sheet, by hand. A level 100 W array without shade, temperature or controller losses
/// under 5 kWh/m² gives 500 Wh a day. A load of 20 W needs 480 Wh. Parked in the dark it takes 960 Wh in two nights:
/// 80 % of 93.75 Ah at 12.8 V, so that 20 % are left. A 10 A charger fills these 960 Wh at 128 W and 95 % in 7.89 h.
#[test]
fn a_small_bank_by_hand() {
    let spec = |irradiation: &str| {
        format!(
            "spec = 2\n[build]\ntitle = \"By hand\"\nhandover = 2027-05-14\n[use]\ngoals.nights = 2\ndriving = \"0 h\"\n[climate.spring]\nmonth = 4\nlatitude = \"40 °\"\nirradiation = \"{irradiation} kWh/m2\"\nlow = \"8 °C\"\nhigh = \"18 °C\"\n[component]\nbank = {{ kind = \"battery-bank\", capacity = \"93.75 Ah\" }}\nbus = {{ kind = \"busbar\", fed_from = \"bank\" }}\nload = {{ kind = \"cellular-repeater\", fed_from = \"bus\", draw = \"20 W\", hours = \"24 h\" }}\narray = {{ kind = \"solar-array\", power = \"100 W\", voc = \"22 V\", isc = \"6 A\", vmp = \"18 V\", imp = \"5.5 A\", shading = \"0 %\", power_per_kelvin = \"0 %\" }}\nmppt = {{ kind = \"solar-controller\", fed_from = \"array\", feeds = \"bus\", efficiency = \"100 %\", output_current = \"30 A\" }}\ninlet = {{ kind = \"shore-inlet\", rating = \"16 A\" }}\ncharger = {{ kind = \"shore-charger\", fed_from = \"inlet\", feeds = \"bus\", output_current = \"10 A\" }}\n"
        )
    };
    let printed = |irradiation: &str| {
        let loaded = pipeline::load(crate::harness::house(), "hand.toml", spec(irradiation).as_bytes()).expect("kinds");
        let sheets = crate::harness::sheets(&loaded);
        sheets.iter().find(|s| s.stem.contains("calculation")).expect("a calculation sheet").markdown.clone()
    };
    let bright = printed("5");
    for line in ["spring.solar-day", "array.spring.array-day"] {
        let row = bright.lines().find(|l| l.contains(line)).unwrap_or_else(|| panic!("no {line}"));
        assert!(row.contains("500 Wh"), "{row}");
    }
    let row = |sheet: &str, figure: &str| {
        sheet.lines().find(|l| l.contains(figure)).unwrap_or_else(|| panic!("no {figure}")).to_owned()
    };
    assert!(row(&bright, "spring.need-day").contains("480 Wh"));
    assert!(row(&bright, "charger.hours-to-full").contains("7.89 h"));
    let dark = row(&printed("0"), "spring.lowest-state-parked");
    assert!(dark.contains("20 %") && dark.contains("lasts in usual weather"), "{dark}");
}

/// A claim of the trade (common practice, no source): over 1,000 Ah, a 12 V air conditioner runs more than 60 hours.
/// It holds at a third of the time and not without pause, so the duty is printed beside the run time.
#[test]
fn the_duty_stands_beside_the_run_time() {
    let run_time = |duty: &str| {
        let text = format!(
            "spec = 2\n[build]\ntitle = \"Cool\"\n[component]\nbank = {{ kind = \"battery-bank\", capacity = \"1000 Ah\", usable = \"100 %\" }}\nbus = {{ kind = \"busbar\", fed_from = \"bank\" }}\ncool = {{ kind = \"air-conditioner\", fed_from = \"bus\", draw = \"600 W\", duty = \"{duty}\" }}"
        );
        let loaded = pipeline::load(crate::harness::house(), "cool.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let figure = worked.ledger.figures().find(|f| f.id == "cool.run-time").expect("a run time");
        assert_eq!(figure.inputs[2].show(rigbinder::units::System::Metric), duty);
        worked.energy.run_times["cool"].time.0 / 3600.0
    };
    assert!((run_time("100 %") - 21.33).abs() < 0.01);
    assert!(run_time("33 %") > 60.0);
}

/// Driven or parked: each case is told, and whoever accepts the one has not accepted the other. 90 Ah at 20 W are through
/// on the third day even with 15 minutes of driving a day, and parked they are empty.
#[test]
fn driving_and_parked_are_accepted_each_by_itself() {
    let text =
        include_str!("../../specs/broken/solar-below-need.toml").replace("driving = \"2 h\"", "driving = \"15 min\"");
    let open = |accepted: &str| {
        let found = crate::harness::findings(&format!("{text}{accepted}"));
        let about = found.into_iter().filter(|f| f.subject.as_deref() == Some("autumn") && f.accepted.is_none());
        about.map(|f| (f.name, f.headline)).collect::<Vec<_>>()
    };
    let names = |found: &[(&'static str, String)]| found.iter().map(|(name, _)| *name).collect::<Vec<_>>();
    let all = open("");
    let driven = all.iter().map(|f| f.0).find(|n| ["reserve-broken", "bank-empty-off-grid"].contains(n));
    let driven = driven.expect("the case of driving");
    assert!(names(&all).contains(&"solar-below-need"), "{all:?}");
    let left = open(&format!("[[accepted]]\nfinding = \"{driven}\"\nreason = \"we drive on\"\nby = \"R. H.\"\n"));
    assert!(names(&left).contains(&"solar-below-need") && !names(&left).contains(&driven), "{left:?}");
    let left = open("[[accepted]]\nfinding = \"solar-below-need\"\nreason = \"we plug in\"\nby = \"R. H.\"\n");
    assert!(names(&left).contains(&driven) && !names(&left).contains(&"solar-below-need"), "{left:?}");
}
