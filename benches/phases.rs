//! Time of each phase of a compile, by criterion: reading, checking, writing as Markdown, HTML and Typst.
//!
//! `cargo bench --bench phases`. Typesetting by the external program is not in it; `make bench` has that.

#![allow(clippy::disallowed_methods, clippy::print_stdout, reason = "a benchmark takes times and prints them")]

mod support;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use rigbinder::pipeline::{self, Only};
use std::hint::black_box;
use std::time::Duration;
use support::{demo, load, synthetic, work_out};

fn phases(c: &mut Criterion) {
    let mut specs = vec![("heron".to_owned(), demo("heron")), ("weekend".to_owned(), demo("weekend"))];
    specs.extend([100, 1_000].map(|n| (n.to_string(), synthetic::spec(n))));
    let mut group = c.benchmark_group("phases");
    group.sample_size(10).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(3));
    for (name, text) in &specs {
        group.bench_function(BenchmarkId::new("read", name), |b| b.iter(|| black_box(load(text))));
        group.bench_function(BenchmarkId::new("check", name), |b| {
            b.iter(|| black_box(work_out(&load(text)).findings.len()));
        });
        let loaded = load(text);
        let worked = work_out(&loaded);
        group.bench_function(BenchmarkId::new("sheets", name), |b| {
            b.iter(|| black_box(pipeline::sheets(&worked, &Only::default())));
        });
        group.bench_function(BenchmarkId::new("data", name), |b| b.iter(|| black_box(pipeline::data(&worked))));
    }
    group.finish();
}

criterion_group!(all, phases);
criterion_main!(all);
