//! Limits hold: whatever its size and shape, a spec is answered soon, in bounded space and without a crash.

use crate::harness::root;
use rigbinder::pipeline;

#[test]
#[expect(clippy::too_many_lines, reason = "a list of cases")]
fn hostile_specs_are_answered_soon() {
    let head = "[build]\ntitle = \"T\"\n";
    let demo = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    let many = |n: usize, line: &dyn Fn(usize) -> String| (0..n).map(line).collect::<String>();
    let fridge = |i: usize| {
        format!("[component.c{i}]\nkind = \"fridge\"\nfed_from = \"panel\"\nrun = \"1 m\"\nplace = \"galley\"\n")
    };
    let cases = [
        ("deep lists", format!("{head}x = {}", "[".repeat(400_000)), "nesting-too-deep"),
        ("deep tables", format!("{head}x = {}", "{a=".repeat(150_000)), "nesting-too-deep"),
        ("deep names", format!("{head}x{} = 1", ".a".repeat(200_000)), "nesting-too-deep"),
        ("too large", format!("{head}{}", "# padding\n".repeat(400_000)), "file-too-large"),
        ("lines that are no TOML", format!("{head}{}", "x =\n".repeat(200_000)), "toml-syntax"),
        ("one key many times", format!("{head}{}", "shop = \"x\"\n".repeat(50_000)), "duplicate-key"),
        ("many keys", format!("{head}{}", many(60_000, &|i| format!("x{i} = 1\n"))), "too-many-entries"),
        (
            "many components",
            format!("{head}{}", many(15_000, &|i| format!("[component.c{i}]\nkind = \"nope{i}\"\n"))),
            "too-many-entries",
        ),
        (
            "a long list",
            format!("{demo}\n[component.z]\nkind = \"fridge\"\nfed_from = [{}]\n", "\"panel\", ".repeat(50_000)),
            "too-many-entries",
        ),
        ("as many components as may be", format!("{demo}\n{}", many(950, &fridge)), "panel-out-of-ways"),
        ("as many that nothing feeds", format!("{head}{}", many(1_000, &fridge)), "unknown-component"),
        (
            "kinds that are not there",
            format!("{head}{}", many(1_000, &|i| format!("[component.c{i}]\nkind = \"nope{i}\"\n"))),
            "unknown-kind",
        ),
        (
            "a long way to feed",
            format!(
                "{demo}\n[component.c0]\nkind = \"busbar\"\nfed_from = \"panel\"\n{}",
                many(900, &|i| format!("[component.c{}]\nkind = \"busbar\"\nfed_from = \"c{i}\"\n", i + 1))
            ),
            "feeding-too-deep",
        ),
        (
            "copies of copies",
            format!(
                "{head}[component.c0]\nkind = \"fridge\"\n{}",
                many(900, &|i| format!("[component.c{}]\nlike = \"c{i}\"\n", i + 1))
            ),
            "like-too-long",
        ),
        (
            "copies in a circle",
            format!("{head}{}", many(1_000, &|i| format!("[component.c{i}]\nlike = \"c{}\"\n", (i + 1) % 1_000))),
            "like-too-long",
        ),
        (
            "many pieces",
            format!("{demo}\n{}", many(41, &|i| format!("[component.c{i}]\nkind = \"cabinet\"\ncount = 500\n"))),
            "too-many-components",
        ),
        (
            "tasks in a row",
            format!(
                "{demo}\n{}",
                many(900, &|i| format!(
                    "[task.t{}]\ntitle = \"x\"\nstage = \"furniture\"\nneeds = [\"t{i}\"]\n",
                    i + 1
                ))
            ),
            "unknown-task",
        ),
        (
            "acceptances",
            format!("{demo}\n{}", "[[accepted]]\nfinding = \"nope\"\nreason = \"r\"\nby = \"b\"\n".repeat(1_000)),
            "accepted-nothing",
        ),
        (
            "records of nothing",
            format!("{demo}\n[recorded.readings]\n{}", many(1_000, &|i| format!("battery.x{i} = \"1 V\"\n"))),
            "recorded-nothing",
        ),
        (
            "a name without end",
            format!("{demo}\n[component.z]\nkind = \"fridge\"\nname = \"{}\"\n", "W".repeat(900_000)),
            "text-too-long",
        ),
        (
            "a number without end",
            format!("{demo}\n[component.z]\nkind = \"fridge\"\nmass = \"{} kg\"\n", "9".repeat(900_000)),
            "quantity-unreadable",
        ),
        ("a far day", format!("{head}handover = 9999-12-31\n"), "date-invalid"),
        ("braces", demo.replace("\"Weekend\"", &format!("\"{}\"", "{{ x }}{% if %}".repeat(60))), "no-handover-date"),
    ];
    for (what, text, name) in cases {
        let begun = std::time::Instant::now();
        let loaded = pipeline::load(crate::harness::house(), "spec.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let shown = rigbinder::diag::human::render(&worked.findings, &loaded.file, false, true);
        let took = begun.elapsed();
        let fired = worked.findings.iter().any(|f| f.name == name);
        assert!(fired || what == "braces", "{what}: {}", shown.chars().take(2_000).collect::<String>());
        assert!(shown.len() < 1_000_000, "{what}: {} bytes of findings", shown.len());
        // Some seconds in an unoptimised build; generous, for a slow and busy machine.
        assert!(took.as_secs() < 60, "{what} took {took:?}");
    }
}
