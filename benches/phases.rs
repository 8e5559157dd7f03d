//! Time of each phase of a compile, as a median and as a share of the whole, and its growth with the size of a build.
//!
//! `cargo bench` prints the table. Typesetting by the external program is not in it.

#![expect(clippy::expect_used, reason = "a benchmark that cannot run says why and stops")]

use rigbinder::pipeline::{self, Only};
use std::fmt::Write;
use std::hint::black_box;
use std::time::{Duration, Instant};

const RUNS: usize = 15;

fn median(mut work: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort();
    times[RUNS / 2]
}

/// Read, work out, write as text: the three phases of one spec.
fn phases(text: &str) -> [Duration; 3] {
    let load = || pipeline::load("bench.toml", text.as_bytes()).expect("kinds");
    let loaded = load();
    let worked = pipeline::work_out(&loaded).expect("profile");
    [
        median(|| drop(black_box(load()))),
        median(|| drop(black_box(pipeline::work_out(&loaded)))),
        median(|| drop(black_box(pipeline::sheets(&worked, &Only::default())))),
    ]
}

/// A build of `n` loads, twenty on each panel.
fn synthetic(n: usize) -> String {
    let mut spec = String::from(
        "[build]\ntitle = \"Bench\"\nhandover = 2027-05-14\n[place.here]\nabout = \"Here\"\n[component]\n\
         bank = { kind = \"battery-bank\", capacity = \"9000 Ah\", place = \"here\" }\n\
         main = { kind = \"main-fuse\", fed_from = \"bank\", run = \"0.1 m\", rating = \"1200 A\", place = \"here\" }\n\
         switch = { kind = \"battery-disconnect\", fed_from = \"main\", run = \"0.1 m\", rating = \"2000 A\", place = \"here\" }\n\
         bus = { kind = \"busbar\", fed_from = \"switch\", run = \"0.1 m\", rating = \"2000 A\", place = \"here\" }\n",
    );
    for i in 0..n {
        if i % 20 == 0 {
            let _ = writeln!(
                spec,
                "panel-{} = {{ kind = \"fuse-panel\", ways = 20, fed_from = \"bus\", run = \"1 m\", place = \"here\" }}",
                i / 20
            );
        }
        let _ = writeln!(
            spec,
            "load-{i} = {{ kind = \"fridge\", fed_from = \"panel-{}\", run = \"{}.5 m\", place = \"here\" }}",
            i / 20,
            1 + i % 7
        );
    }
    spec
}

fn row(name: &str, times: [Duration; 3], base: Option<(usize, Duration, usize)>) -> Duration {
    let whole: Duration = times.iter().sum();
    let ms = |d: Duration| format!("{:8.2} ms", d.as_secs_f64() * 1000.0);
    let share = |d: Duration| format!("{:4.0} %", d.as_secs_f64() / whole.as_secs_f64() * 100.0);
    let growth = base.map_or_else(String::new, |(from, time, to)| {
        #[expect(clippy::cast_precision_loss, reason = "small counts")]
        let exponent = (whole.as_secs_f64() / time.as_secs_f64()).ln() / (to as f64 / from as f64).ln();
        format!("  grows as n^{exponent:.2}")
    });
    let [read, work, text] = times;
    println!(
        "{name:18} {} | read {} | compute and check {} | documents {}{growth}",
        ms(whole),
        share(read),
        share(work),
        share(text)
    );
    whole
}

fn main() {
    for spec in ["weekend", "turnstone", "heron"] {
        let path = format!("{}/specs/{spec}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).expect("demo spec");
        row(spec, phases(&text), None);
    }
    let mut base = None;
    for n in [100, 300, 1000] {
        let whole = row(&format!("{n} loads"), phases(&synthetic(n)), base.map(|(from, time)| (from, time, n)));
        base = Some((n, whole));
    }
}
