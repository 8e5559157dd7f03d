//! Specs of any size for measuring growth: wired, fixed and plumbed parts of many kinds in the shares of a van, free of
//! errors at every size.

use std::fmt::Write;

/// Components that hang on one bank; more would ask for conductors that no bank's terminals hold.
const ON_ONE_BANK: usize = 250;

/// Ways of a fuse panel.
const WAYS: usize = 20;

/// A fixed part that needs no wire: kind and fields of its own.
const FIXED: [(&str, &str); 10] = [
    ("cabinet", ""),
    ("drawer", ""),
    ("latch", ""),
    ("overhead-locker", ""),
    ("table", ""),
    ("sink", ", drains_to = \"grey\""),
    ("insulation", ", area = \"0.4 m2\""),
    ("window-cover", ""),
    ("extinguisher", ""),
    ("worktop", ""),
];

/// A part on a way of a panel: kind and fields of its own.
const WIRED: [(&str, &str); 14] = [
    ("light-zone", ", draw = \"6 W\", fittings = 4"),
    ("usb-outlet", ""),
    ("reading-light", ", draw = \"2 W\""),
    ("strip-light", ", draw = \"5 W\", length = \"0.8 m\""),
    ("roof-fan", ""),
    ("light-zone", ", draw = \"4 W\", fittings = 2"),
    ("dc-socket", ""),
    ("storage-light", ", draw = \"3 W\""),
    ("fridge", ", draw = \"45 W\""),
    ("circulation-fan", ", draw = \"3 W\""),
    ("entry-light", ", draw = \"3 W\""),
    ("router", ""),
    ("exterior-light", ", draw = \"10 W\""),
    ("camera", ""),
];

/// A spec with exactly `n` components (100 or more): a bank for every 250, panels of 20 ways, wired and fixed parts in
/// turn, a place with coordinates and a task of its own for every 20.
#[must_use]
pub(crate) fn spec(n: usize) -> String {
    let mut spec = String::from(
        "spec = 2\n[build]\ntitle = \"Bench\"\nhandover = 2027-05-14\nrevision = \"A\"\n[vehicle]\nname = \"long van\"\n\
         wheelbase = \"3.95 m\"\nwidth = \"2.02 m\"\nheight = \"2.75 m\"\nlength = \"6.6 m\"\nfront_overhang = \"1 m\"\n\
         rear_overhang = \"1.65 m\"\ngross_mass = \"4490 kg\"\nfront_axle_limit = \"2000 kg\"\nrear_axle_limit = \"2900 kg\"\n\
         front_axle_empty = \"1410 kg\"\nrear_axle_empty = \"1020 kg\"\ntrack = \"1.72 m\"\n[use]\npeople = 2\ngoals.nights = 2\n\
         [climate.summer]\nmonth = 7\nlatitude = \"50 °\"\nirradiation = \"5.2 kWh/m2\"\nlow = \"11 °C\"\nhigh = \"24 °C\"\n\
         record_low = \"-8 °C\"\n",
    );
    let places = n / 20;
    spec.push_str("[place]\n");
    for i in 0..places {
        let (x, y, z) = (i % 20, i / 20 % 5, i / 100);
        let _ = writeln!(
            spec,
            "p{i} = {{ about = \"Bay {i}\", zone = \"cabin\", at = [\"{:.2} m\", \"{:.2} m\", \"{:.2} m\"], size = [\"0.2 m\", \"0.3 m\", \"0.3 m\"] }}",
            1.3 + 0.2 * real(x),
            0.3 * real(y) - 0.6,
            0.3 * real(z),
        );
    }
    spec.push_str("[component]\n");
    let mut maker = Maker { spec, made: 0, places, mass: 250.0 / real(n) };
    maker.components(n);
    let mut spec = maker.spec;
    for i in 0..places {
        let after = if i == 0 { String::new() } else { format!(", after = [\"seal-{}\"]", i - 1) };
        let lead = if i == 0 { "[task]\n" } else { "" };
        let _ = writeln!(
            spec,
            "{lead}seal-{i} = {{ stage = \"furniture\", title = \"Seal bay {i}\", steps = [\"Seal the edges.\"], minutes = 10{after} }}"
        );
    }
    spec
}

#[expect(clippy::cast_precision_loss, reason = "small counts")]
fn real(n: usize) -> f64 {
    n as f64
}

/// Writes components and counts them.
struct Maker {
    spec: String,
    made: usize,
    places: usize,
    /// Mass of a part, kg: all together stay what a van carries.
    mass: f64,
}

impl Maker {
    fn part(&mut self, id: &str, kind: &str, fields: &str) {
        let place = self.made / 20 % self.places.max(1);
        let mass = self.mass;
        let _ = writeln!(
            self.spec,
            "{id} = {{ kind = \"{kind}\", place = \"p{place}\", mass = \"{mass:.4} kg\"{fields} }}"
        );
        self.made += 1;
    }

    fn components(&mut self, n: usize) {
        self.part("grey", "grey-tank", ", capacity = \"60 L\", position = \"inside\"");
        self.part("fresh", "fresh-tank", ", capacity = \"80 L\"");
        self.part("co-alarm", "co-alarm", "");
        self.part("smoke", "smoke-alarm", "");
        let mut bank = 0;
        while self.made < n {
            let end = (self.made + ON_ONE_BANK).min(n);
            self.bank(bank, end);
            bank += 1;
        }
    }

    /// A bank with its chargers and panels, and parts on them up to `end` in all.
    fn bank(&mut self, b: usize, end: usize) {
        let head: [(&str, &str, String); 9] = [
            ("bank", "battery-bank", ", capacity = \"840 Ah\", max_discharge = \"450 A\", max_charge = \"420 A\", fault_current = \"6600 A\"".into()),
            ("main", "main-fuse", format!(", fed_from = \"bank-{b}\", run = \"0.15 m\", sheathed = true, family = \"class-t\", interrupting = \"20000 A\"")),
            ("switch", "battery-disconnect", format!(", fed_from = \"main-{b}\", run = \"0.4 m\", rating = \"500 A\"")),
            ("bus", "busbar", format!(", fed_from = \"switch-{b}\", run = \"0.4 m\", rating = \"600 A\"")),
            ("negative", "negative-busbar", format!(", mirrors = \"bus-{b}\", rating = \"600 A\"")),
            ("array", "solar-array", ", mount = \"roof-rack\", power = \"175 W\", voc = \"23.6 V\", isc = \"9.4 A\", vmp = \"19.8 V\", imp = \"8.84 A\", series = 2, parallel = 2".into()),
            ("isolator", "pv-isolator", format!(", fed_from = \"array-{b}\", run = \"5.2 m\", rating = \"50 A\", rated_voltage = \"150 V\"")),
            ("mppt", "solar-controller", format!(", fed_from = \"isolator-{b}\", run = \"0.4 m\", output_current = \"50 A\", max_pv_voltage = \"100 V\", max_pv_current = \"35 A\", feeds = \"bus-{b}\", output_run = \"0.7 m\"")),
            ("pump", "water-pump", format!(", fed_from = \"bus-{b}\", run = \"1.5 m\", draw = \"40 W\", start_current = \"8 A\"")),
        ];
        for (id, kind, fields) in head {
            if self.made == end {
                return;
            }
            self.part(&format!("{id}-{b}"), kind, &fields);
        }
        let mut on_panel = WAYS;
        let mut panel = String::new();
        while self.made < end {
            let i = self.made;
            if on_panel == WAYS && i + 2 < end {
                self.part(&format!("fuse-{i}"), "terminal-fuse", &format!(", fed_from = \"bus-{b}\", run = \"0.1 m\""));
                panel = format!("panel-{i}");
                let fields = format!(
                    ", fed_from = \"fuse-{i}\", run = \"0.5 m\", ways = {WAYS}, rating = \"100 A\", diversity = \"60 %\""
                );
                self.part(&panel, "fuse-panel", &fields);
                on_panel = 0;
            } else if i.is_multiple_of(3) || on_panel == WAYS {
                let (kind, fields) = FIXED[i / 3 % FIXED.len()];
                self.part(&format!("{kind}-{i}"), kind, fields);
            } else {
                let (kind, fields) = WIRED[on_panel * 3 % WIRED.len()];
                let run = format!(", fed_from = \"{panel}\", run = \"{}.5 m\"{fields}", 1 + i % 4);
                self.part(&format!("{kind}-{i}"), kind, &run);
                on_panel += 1;
            }
        }
    }
}
