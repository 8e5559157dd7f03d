//! Energy charts: the curves are those of the figures, on the scale that the axes print.

#![expect(clippy::cast_precision_loss, reason = "hours of a stay")]

use crate::harness::root;
use rigbinder::drawings::energy::STATE;
use rigbinder::drawings::{Drawing, Subject};
use rigbinder::pipeline::{self, Worked};

const SPECS: [&str; 4] = ["heron", "turnstone", "purfling", "basalt"];

/// Coordinates are written to a hundredth of a millimetre.
const ROUNDING: f64 = 0.0051;

fn with<T>(text: &[u8], look: impl FnOnce(&Worked<'_>, &[Drawing]) -> T) -> T {
    let loaded = pipeline::load(crate::harness::house(), "test.toml", text).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let drawings: Vec<_> = pipeline::drawings(&worked).into_iter().filter(|d| d.subject == Subject::Energy).collect();
    look(&worked, &drawings)
}

fn spec(name: &str) -> Vec<u8> {
    std::fs::read(root().join(format!("specs/{name}.toml"))).expect("spec")
}

/// The points of every path of a drawing that is made of straight lines.
fn paths(drawing: &Drawing) -> Vec<Vec<(f64, f64)>> {
    let read = roxmltree::Document::parse(&drawing.svg).expect("svg");
    let points = |d: &str| {
        let pairs = d.trim_end_matches('Z').split(['M', 'L']).filter(|p| !p.is_empty());
        pairs
            .map(|p| p.split_once(' ').and_then(|(x, y)| Some((x.parse().ok()?, y.parse().ok()?))))
            .collect::<Option<_>>()
    };
    let drawn = read.descendants().filter(|n| n.has_tag_name("path")).filter_map(|n| n.attribute("d"));
    drawn.filter_map(points).collect()
}

/// Height on the sheet of a tick, by its label.
fn tick(drawing: &Drawing, label: &str) -> f64 {
    let read = roxmltree::Document::parse(&drawing.svg).expect("svg");
    let text = read.descendants().find(|n| n.has_tag_name("text") && n.text() == Some(label)).expect(label);
    text.attribute("y").and_then(|y| y.parse::<f64>().ok()).expect("y") - 0.8
}

/// Whether a path runs through `wanted` and nothing else.
fn is(path: &[(f64, f64)], wanted: &[(f64, f64)], rounding: f64) -> bool {
    let near = |(a, b): (&(f64, f64), &(f64, f64))| (a.0 - b.0).abs() < rounding && (a.1 - b.1).abs() < rounding;
    path.len() == wanted.len() && path.iter().zip(wanted).all(near)
}

#[test]
fn the_curve_of_each_stay_is_its_state_of_charge_hour_by_hour() {
    let mut curves = 0;
    for name in SPECS {
        with(&spec(name), |worked, drawings| {
            let full = worked.energy.store.as_ref().expect("bank").full.0;
            for (id, season) in &worked.energy.seasons {
                let drawing = drawings.iter().find(|d| d.about == *id).expect("a chart");
                let (empty, top) = (tick(drawing, "0 %"), tick(drawing, "100 %"));
                for stay in season.driving.iter().chain(&season.parked) {
                    let hours = stay.hours.len() as f64;
                    let at = |i: usize, state: f64| {
                        (STATE.left + STATE.width * i as f64 / hours, empty - (empty - top) * state / full)
                    };
                    let ends = stay.hours.iter().enumerate().map(|(i, h)| at(i + 1, h.state));
                    let wanted: Vec<_> = [at(0, full)].into_iter().chain(ends).collect();
                    assert!(paths(drawing).iter().any(|p| is(p, &wanted, ROUNDING)), "{name} {id}");
                    curves += 1;
                }
            }
        });
    }
    assert!(curves >= 12, "{curves}");
}

#[test]
fn the_steps_of_the_loads_are_their_power_on_the_printed_scale() {
    for name in SPECS {
        with(&spec(name), |worked, drawings| {
            for (id, season) in &worked.energy.seasons {
                let drawing = drawings.iter().find(|d| d.about == *id).expect("a chart");
                let watts = |l: &&rigbinder::drawings::canvas::Label| {
                    l.text.strip_suffix(" W").and_then(|n| n.parse::<f64>().ok()).filter(|n| *n > 0.0)
                };
                let highest = drawing
                    .labels
                    .iter()
                    .filter(|l| watts(l).is_some())
                    .max_by(|a, b| watts(a).partial_cmp(&watts(b)).expect("number"))
                    .expect("ticks");
                let (zero, full) = (tick(drawing, "0 W"), tick(drawing, &highest.text));
                let scale = (zero - full) / watts(&highest).expect("number");
                let need = season.need.total();
                let step = |h: usize| {
                    let x = |h: usize| STATE.left + STATE.width * h as f64 / 24.0;
                    let y = zero - need[h] * scale;
                    [(x(h), y), (x(h + 1), y)]
                };
                let wanted: Vec<_> = (0..24).flat_map(step).collect();
                // The two ticks were rounded too.
                assert!(paths(drawing).iter().any(|p| is(p, &wanted, 3.0 * ROUNDING)), "{name} {id}");
            }
        });
    }
}

#[test]
fn the_reading_names_the_lowest_hour_of_the_figures() {
    with(&spec("heron"), |worked, drawings| {
        let winter = &worked.energy.seasons["winter"];
        let parked = winter.parked.as_ref().expect("stay");
        let lowest = parked.hours.iter().map(|h| h.state).fold(f64::INFINITY, f64::min);
        let after = parked.hours.iter().position(|h| h.state <= lowest).expect("hour") + 1;
        // Arrival is at 18:00 of day 1.
        let (day, clock) = ((18 + after) / 24 + 1, (18 + after) % 24);
        let drawing = drawings.iter().find(|d| d.about == "winter").expect("chart");
        let said = format!("Parked: lowest {} on day {day}, {clock:02}:00", parked.lowest.show(worked.build.prints()));
        assert!(drawing.description.contains(&said), "{said}: {}", drawing.description);
    });
}

#[test]
fn odd_builds_have_the_charts_there_is_something_to_say_for() {
    let night = "[climate.polar-night]\nmonth = 12\nlatitude = \"74 °\"\nirradiation = \"0 kWh/m2\"\nlow = \"-30 °C\"\nhigh = \"-20 °C\"\n";
    let bank = "[component.bank]\nkind = \"battery-bank\"\ncapacity = \"280 Ah\"\n";
    let head = "[build]\ntitle = \"Odd\"\nhandover = 2027-04-09\nrules = \"eu\"\n";
    let lamp = "[component.lamp]\nkind = \"strip-light\"\nfed_from = \"bank\"\nrun = \"2 m\"\ndraw = \"6 W\"\n";
    let count = |text: String| with(text.as_bytes(), |_, drawings| drawings.len());
    assert_eq!(count(head.to_owned()), 0);
    assert_eq!(count(format!("{head}{bank}{lamp}")), 0, "no season");
    assert_eq!(count(format!("{head}{night}")), 0, "nothing draws power and nothing holds it");
    assert_eq!(count(format!("{head}[use]\ngoals.nights = 60\n{night}{bank}{lamp}")), 1);
    assert_eq!(count(format!("{head}[use]\ngoals.nights = 0\n{night}{bank}{lamp}")), 1);
}

/// The picture of a season's day: outside, inside and the coldest pane run through the figures of the climate day on the
/// scale that its thermometer prints, and the sentence over it is that of the night after which the bank is too low.
#[test]
fn the_day_of_a_season_is_that_of_the_figures() {
    let loaded = pipeline::load(crate::harness::house(), "test.toml", &spec("heron")).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let drawings = pipeline::drawings(&worked);
    let mut curves = 0;
    for (id, day) in &worked.climate_days.days {
        let drawing = drawings.iter().find(|d| d.subject == Subject::ClimateDay && d.about == *id).expect("a day");
        let degrees = |text: &str| text.strip_suffix("°F").and_then(|n| n.trim().replace('−', "-").parse::<f64>().ok());
        let marks = drawing.labels.iter().filter_map(|l| Some((degrees(&l.text)?, tick(drawing, &l.text))));
        let marks: Vec<_> = marks.collect();
        let (low, high) = (marks.first().expect("a tick"), marks.last().expect("a tick"));
        let per_degree = (high.1 - low.1) / (high.0 - low.0);
        let inside = day.inside.as_ref().expect("a shell");
        for hours in [Some(&day.weather.air), Some(&inside.celsius), day.pane.as_ref()].into_iter().flatten() {
            let wanted: Vec<_> = hours.iter().map(|t| low.1 + (t * 1.8 + 32.0 - low.0) * per_degree).collect();
            let drawn = paths(drawing).into_iter().filter(|p| p.len() == 24);
            let near = |p: &[(f64, f64)]| p.iter().zip(&wanted).all(|(p, y)| (p.1 - y).abs() < 3.0 * ROUNDING);
            assert!(drawn.into_iter().any(|p| near(&p)), "{id}");
            curves += 1;
        }
    }
    assert!(curves >= 9, "{curves}");
    let winter = drawings.iter().find(|d| d.stem == "climate-day-winter").expect("winter");
    // Arrival at 18:00; the third night is over at 9:00, 63 hours later.
    let below = worked.energy.seasons["winter"].driving.as_ref().expect("a stay").below_reserve.expect("too low");
    let night = (below - 15).div_ceil(24);
    assert!(winter.description.contains(&format!("Plug in after night {night}")), "{}", winter.description);
}
