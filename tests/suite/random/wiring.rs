//! Makes a build of what was rolled: kinds by their part in the networks, each fed from something that can feed it.

use super::draft::{Draft, Table};
use super::plan::{BuildPlan, FieldPlan, PartPlan, TablePlan};
use super::value::{Die, value};
use super::volts::{self, TWELVE};
use crate::harness::language;
use indexmap::IndexMap;
use proptest::sample::Index;
use rigbinder::fields::{Declarations, FieldType};
use rigbinder::kinds::{Kind, Library, Network, PlumbingRole, Role, ThermalRole};
use rigbinder::units::Dimension;
use std::collections::BTreeSet;
use std::sync::LazyLock;
use toml::Value;

/// All kinds.
static LIBRARY: LazyLock<Library> =
    LazyLock::new(|| Library::load(crate::harness::built_in()).expect("the kinds hold together"));

/// Fields of a component of each kind.
static FIELDS: LazyLock<IndexMap<String, Declarations>> = LazyLock::new(|| {
    let common = &language().component;
    LIBRARY.fields(&common.common, &common.supply, &common.output).kinds
});

/// Names of fields that refer to components.
static REFERRING: LazyLock<BTreeSet<&str>> = LazyLock::new(|| {
    let is = |ty: FieldType| matches!(ty, FieldType::Component | FieldType::Components);
    let fields = FIELDS.values().flat_map(|f| f.iter()).filter(|(_, decl)| is(decl.ty));
    fields.map(|(name, _)| name.as_str()).collect()
});

/// Fields that the wiring gives, or that a rolled value would only break.
const OURS: &[&str] =
    &["kind", "like", "place", "places", "count", "fed_from", "feeds", "shore_from", "way", "run", "scope", "known"];

/// Ids of tables beside components.
const IDS: [&str; 8] =
    ["north", "a", "left-2", "x9", "the-longest-name-of-all-places-and-seasons-here", "b1", "mid", "z"];

/// Sections with many tables, in the order of [`BuildPlan::tables`].
const SECTIONS: [&str; 6] = ["climate", "shell", "place", "contact", "task", "stage"];

/// Most circuits that leave one panel.
const MOST_WAYS: usize = 12;

/// Whether a field refers to components.
pub(super) fn refers(field: &str) -> bool {
    REFERRING.contains(field)
}

/// The fields that a component of a kind may give.
pub(super) fn fields_of(kind: &str) -> &'static Declarations {
    &FIELDS[kind]
}

/// A kind.
pub(super) fn kind_of(id: &str) -> &'static Kind {
    LIBRARY.get(id).expect("a kind that was drawn")
}

/// Kinds that stand by themselves or are plain loads: what can be added anywhere.
pub(super) fn free_kinds() -> Vec<&'static Kind> {
    let structural = |role: Role| {
        role.is_source()
            || role.has_output()
            || matches!(role, Role::Shunt | Role::Transfer | Role::Rcd | Role::AcPanel | Role::Converter)
    };
    LIBRARY.iter().filter(|k| k.electric.is_none_or(|e| !structural(e.role))).collect()
}

pub(super) fn kinds_that(wanted: impl Fn(Role, Network) -> bool) -> Vec<&'static Kind> {
    LIBRARY.iter().filter(|k| k.electric.is_some_and(|e| wanted(e.role, e.network))).collect()
}

/// A component that stands.
pub(super) struct Placed {
    pub(super) id: String,
    pub(super) kind: &'static Kind,
    children: usize,
    /// Its way is given, whatever its number.
    way: bool,
    /// Nominal voltage of the DC network that it gives its current on to.
    pub(super) volts: u16,
}

/// The build while it grows.
pub(super) struct Site {
    pub(super) draft: Draft,
    /// Nominal voltage of the bank's network.
    pub(super) volts: u16,
    pub(super) placed: Vec<Placed>,
    places: Vec<String>,
}

/// The build of a plan, before it is mended.
pub(super) fn build(plan: &BuildPlan) -> Draft {
    let volts = plan.spine.first().map_or(TWELVE, |bank| [12, 12, 24, 48][usize::from(bank.die.share) % 4]);
    let mut site = Site { draft: Draft::default(), volts, placed: Vec::new(), places: Vec::new() };
    site.settings(plan);
    for (section, tables) in SECTIONS.iter().zip(&plan.tables) {
        for (n, table) in tables.iter().enumerate() {
            site.table(section, IDS[n], table);
        }
    }
    let top = site.spine(&plan.spine);
    // Every other build of another voltage than 12 V has a converter, and some of 12 V.
    if let Some(part) =
        plan.spine.get(1).filter(|p| usize::from(p.die.which) % if volts == TWELVE { 4 } else { 2 } == 0)
    {
        site.converter(part, top.as_deref());
    }
    for part in &plan.distribution {
        let inner = |role: Role, net| {
            net == Network::Dc && role.passes_through() && !matches!(role, Role::Shunt | Role::Disconnect)
        };
        site.free(&kinds_that(inner), part);
    }
    for part in &plan.chargers {
        site.charger(part, top.as_deref());
    }
    site.ac(plan.ac, &plan.ac_parts, top.as_deref());
    let free = free_kinds();
    for part in &plan.parts {
        site.free(&free, part);
    }
    site.give_ways();
    site.draft
}

impl Site {
    /// The site of a build that stands.
    pub(super) fn of(draft: &Draft) -> Self {
        let draft = draft.clone();
        let tables = |section: &'static str| draft.tables.iter().filter(move |t| t.section == section);
        let places = tables("place").filter_map(|t| t.id.clone()).collect();
        let mut standing: Vec<Placed> = Vec::new();
        for table in tables("component") {
            let Some(id) = &table.id else { continue };
            let Some(kind) = LIBRARY.get(draft.shop.kind_of(table)) else { continue };
            standing.push(Placed { id: id.clone(), kind, children: 0, way: false, volts: 0 });
        }
        volts::read_back(&mut standing, tables("component"));
        for table in tables("component") {
            let fed = table.fields.get("fed_from").and_then(Value::as_str);
            if let Some(from) = standing.iter_mut().find(|p| Some(p.id.as_str()) == fed) {
                from.children += 1;
            }
        }
        Self { draft, volts: TWELVE, placed: standing, places }
    }

    fn settings(&mut self, plan: &BuildPlan) {
        for section in ["build", "vehicle", "use"] {
            let decls = &language().sections[section].fields;
            let mut fields = IndexMap::new();
            let needed: Vec<String> = decls.iter().filter(|(_, d)| d.required).map(|(name, _)| name.clone()).collect();
            let tame = Die { which: 0, share: 30_000, wild: false };
            for (name, decl) in decls {
                let rolled =
                    plan.settings.iter().find(|f| f.field.index(decls.len()) == decls.get_index_of(name).unwrap());
                let given = decl.required || section == "vehicle" && plan.whole_vehicle;
                let die = rolled.map(|f| f.die).or(given.then_some(tame));
                fields.extend(die.and_then(|die| value(name, decl, die)).map(|v| (name.clone(), v)));
            }
            if !fields.is_empty() {
                self.draft.tables.push(Table { section: section.to_owned(), id: None, fields, needed });
            }
        }
    }

    fn table(&mut self, section: &str, id: &str, plan: &TablePlan) {
        let decls = &language().sections[section].fields;
        let (mut fields, mut needed) = (IndexMap::new(), Vec::new());
        for (name, decl) in decls.iter().filter(|(_, d)| d.required) {
            fields.extend(value(name, decl, plan.die).map(|v| (name.clone(), v)));
            needed.push(name.clone());
        }
        for FieldPlan { field, die } in &plan.fields {
            let (name, decl) = decls.get_index(field.index(decls.len())).expect("in range");
            // Tasks come after others; those are not known yet.
            if let Some(value) = value(name, decl, *die).filter(|_| name != "after") {
                fields.entry(name.clone()).or_insert(value);
            }
        }
        if section == "place" {
            self.places.push(id.to_owned());
        }
        let id = if section == "stage" {
            let stages = rigbinder::kinds::Stage::ALL;
            stages[(usize::from(plan.die.which) + IDS.iter().position(|i| *i == id).unwrap_or(0)) % stages.len()].id()
        } else {
            id
        };
        if section == "stage" && (fields.is_empty() || self.draft.tables.iter().any(|t| t.id.as_deref() == Some(id))) {
            return;
        }
        self.draft.tables.push(Table { section: section.to_owned(), id: Some(id.to_owned()), fields, needed });
    }

    /// Adds a component; `links` are the fields that tie it in.
    fn add(&mut self, kind: &'static Kind, plan: &PartPlan, links: &[(&str, String)]) -> String {
        let twins = self.placed.iter().filter(|p| p.kind.id == kind.id).count();
        let mut id = if twins == 0 { kind.id.clone() } else { format!("{}-{}", kind.id, twins + 1) };
        while self.placed.iter().any(|p| p.id == id) {
            id.push('x');
        }
        let decls = fields_of(&kind.id);
        let mut fields = IndexMap::from([("kind".to_owned(), Value::from(kind.id.clone()))]);
        let mut needed = vec!["kind".to_owned()];
        for (name, target) in links {
            fields.insert((*name).to_owned(), Value::from(target.clone()));
            needed.push((*name).to_owned());
        }
        let model = self.placed.iter().rev().find(|p| plan.like && p.kind.id == kind.id).map(|p| p.id.clone());
        for (name, decl) in decls.iter().filter(|(name, d)| d.required && !OURS.contains(&name.as_str())) {
            if model.is_none()
                && let Some(value) = self.value(name, decl, plan.die)
            {
                fields.insert(name.clone(), value);
                needed.push(name.clone());
            }
        }
        if let Some(model) = model {
            fields.insert("like".to_owned(), Value::from(model));
            needed.push("like".to_owned());
        }
        let place = (!self.places.is_empty() && !plan.placeless).then(|| plan.place.index(self.places.len()));
        if let Some(place) = place {
            let all =
                (0..usize::from(plan.count)).map(|n| Value::from(self.places[(place + n) % self.places.len()].clone()));
            let mut all: Vec<Value> = all.collect();
            let one = all.swap_remove(0);
            let several = plan.count > 1 && plan.die.which.is_multiple_of(2);
            fields.insert("place".to_owned(), one.clone());
            if several {
                fields.shift_remove("place");
                all.push(one);
                fields.insert("places".to_owned(), Value::Array(all));
            }
        }
        if plan.count > 1 {
            fields.insert("count".to_owned(), Value::from(i64::from(plan.count)));
        }
        let runs = [("fed_from", "run"), ("feeds", "output_run")];
        for (link, run) in &runs {
            if !fields.contains_key(*link) {
                continue;
            }
            if let (false, Some(decl)) = (plan.runless && *link == "fed_from", decls.get(*run)) {
                // The main cables are short, and a fuse stands close to what it protects from.
                let metres = match kind.electric.map(|e| e.role) {
                    Some(Role::Protection) => f64::from(plan.die.share % 12) / 100.0 + 0.05,
                    Some(role) if role.passes_through() && !role.has_ways() => {
                        f64::from(plan.die.share % 60) / 100.0 + 0.1
                    }
                    _ => f64::from(plan.die.share % 60) / 12.0 + 0.1,
                };
                let text = value(run, decl, plan.die).filter(|_| plan.die.wild);
                fields.insert((*run).to_owned(), text.unwrap_or_else(|| Value::from(format!("{metres:.2} m"))));
            }
        }
        let fixed =
            |name: &str| OURS.contains(&name) || name.ends_with("protection") && !plan.die.share.is_multiple_of(8);
        for FieldPlan { field, die } in &plan.fields {
            let (name, decl) = decls.get_index(field.index(decls.len())).expect("in range");
            // A switch stands in what feeds its part.
            let unfed = decl.ty == FieldType::Switch && !fields.contains_key("fed_from");
            if fixed(name) || fields.contains_key(name) || unfed {
                continue;
            }
            fields.extend(self.value(name, decl, *die).map(|v| (name.clone(), v)));
        }
        if fields.contains_key("returns_to") && !plan.runless {
            fields.insert("run".to_owned(), Value::from("0.4 m"));
        }
        // Something works every coil.
        if decls.contains_key("worked_by") {
            fields.insert("worked_by".to_owned(), Value::from("ignition feed"));
            needed.push("worked_by".to_owned());
        }
        let volts = self.suit(kind, &mut fields, &mut needed);
        self.draft.tables.push(Table { section: "component".into(), id: Some(id.clone()), fields, needed });
        self.placed.push(Placed { id: id.clone(), kind, children: 0, way: plan.way, volts });
        id
    }

    /// A value of any type; what refers to components or places refers to some that stand and suit.
    pub(super) fn value(&self, name: &str, decl: &rigbinder::fields::FieldDecl, die: Die) -> Option<Value> {
        let pick = |ids: &[&str]| {
            let at = usize::from(die.which).checked_rem(ids.len())?;
            Some(Value::from(ids[at]))
        };
        let two = |ids: &[&str]| {
            let at = usize::from(die.which).checked_rem(ids.len())?;
            let picked = ids.iter().skip(at).take(1 + usize::from(die.share % 2));
            Some(Value::Array(picked.map(|id| Value::from(*id)).collect()))
        };
        let places: Vec<&str> = self.places.iter().map(String::as_str).collect();
        let suiting =
            || -> Vec<&str> { self.placed.iter().filter(|p| suits(name, p.kind)).map(|p| p.id.as_str()).collect() };
        match decl.ty {
            FieldType::Component => pick(&suiting()),
            FieldType::Components => two(&suiting()),
            FieldType::Switch => {
                let ids: Vec<String> = self.switches().collect();
                pick(&ids.iter().map(String::as_str).collect::<Vec<_>>())
            }
            FieldType::Place => pick(&places),
            FieldType::Places => two(&places),
            FieldType::Text if name.ends_with("protection") => Some(Value::from(
                ["none", "5 A", "10 A", "15 A", "30 A", "100 A", "250 A class-t"][usize::from(die.which) % 7],
            )),
            // A part for another voltage than that of its network is an error: what it is for follows from where it stands.
            FieldType::Quantity(Dimension::Voltage)
                if matches!(
                    name,
                    "made_for"
                        | "made_for_up_to"
                        | "way_voltage"
                        | "protection_voltage"
                        | "output_protection_voltage"
                        | "coil_voltage"
                ) || name == "output_voltage" && decl.min.is_some() =>
            {
                None
            }
            FieldType::Quantity(Dimension::Voltage) if name == "rated_voltage" => Some(Value::from("80 V")),
            FieldType::Quantity(Dimension::Voltage) if name == "voltage" => {
                let per_twelve = ["12 V", "12.8 V", "13.2 V"][usize::from(die.which) % 3];
                Some(Value::from(per_twelve))
            }
            _ => value(name, decl, die),
        }
    }

    /// Every switch that stands, with its panel.
    fn switches(&self) -> impl Iterator<Item = String> {
        self.draft.tables.iter().flat_map(|table| {
            let panel = table.id.as_deref().unwrap_or_default();
            let own = table.fields.get("switch").and_then(Value::as_table);
            own.into_iter().flatten().map(move |(switch, _)| format!("{panel}.{switch}"))
        })
    }

    /// Ids of what current can be taken from in a network.
    fn feeders(&self, network: Network) -> Vec<&str> {
        let feeds = |p: &&Placed| {
            p.kind.electric.is_some_and(|e| {
                let through = e.role.passes_through() && !matches!(e.role, Role::Shunt | Role::Transfer);
                let source = network == Network::Start && e.role == Role::StartBattery;
                e.network == network && (through || source) && p.children < MOST_WAYS
            })
        };
        self.placed.iter().filter(feeds).map(|p| p.id.as_str()).collect()
    }

    /// A component of one of `kinds`, fed from anything that can, if it needs to be.
    fn free(&mut self, kinds: &[&'static Kind], plan: &PartPlan) {
        if kinds.is_empty() {
            return;
        }
        let kind = kinds[plan.kind.index(kinds.len())];
        let mut links = Vec::new();
        if let Some(electric) = kind.electric {
            let feeders = self.feeders(electric.network);
            match feeders.len() {
                0 if !plan.die.share.is_multiple_of(4) => return,
                0 => {}
                n => links.push(("fed_from", feeders[plan.feeder.index(n)].to_owned())),
            }
        }
        self.tie(kind, plan, &links);
    }

    pub(super) fn tie(&mut self, kind: &'static Kind, plan: &PartPlan, links: &[(&str, String)]) -> String {
        for (_, from) in links.iter().filter(|(name, _)| *name == "fed_from") {
            if let Some(feeder) = self.placed.iter_mut().find(|p| &p.id == from) {
                feeder.children += 1;
            }
        }
        self.add(kind, plan, links)
    }

    pub(super) fn of_role(
        &mut self,
        role: Role,
        network: Network,
        plan: &PartPlan,
        links: &[(&str, String)],
    ) -> Option<String> {
        let kinds = kinds_that(|r, n| r == role && n == network);
        let kind = *kinds.get(plan.kind.index(kinds.len().max(1)))?;
        Some(self.tie(kind, plan, links))
    }

    /// Bank, shunt, main fuse, disconnect, busbar; a link may be missing. Returns what feeds the rest.
    fn spine(&mut self, plans: &[PartPlan]) -> Option<String> {
        let (bank, rest) = plans.split_first()?;
        let mut at = self.of_role(Role::Bank, Network::Dc, bank, &[])?;
        let roles = [Role::Protection, Role::Disconnect, Role::Bus, Role::Shunt];
        let bank = at.clone();
        for (role, plan) in roles.into_iter().zip(rest) {
            let from = if role == Role::Shunt { &bank } else { &at };
            let left_out = plan.runless && role != Role::Bus;
            if !left_out && let Some(id) = self.of_role(role, Network::Dc, plan, &[("fed_from", from.clone())]) {
                at = if role == Role::Shunt { at } else { id };
            }
        }
        Some(at)
    }

    fn has(&self, role: Role) -> Option<String> {
        let of = |p: &&Placed| p.kind.electric.is_some_and(|e| e.role == role);
        self.placed.iter().find(of).map(|p| p.id.clone())
    }

    /// A charger of any kind and what it takes its energy from.
    fn charger(&mut self, plan: &PartPlan, top: Option<&str>) {
        let Some(top) = top.map(str::to_owned) else { return };
        // An alternator of the house charges by itself: nothing feeds it.
        let engine = |role, network| role == Role::Alternator && network == Network::Dc;
        let kinds = kinds_that(|role, network| role == Role::Charger || engine(role, network));
        let kind = kinds[plan.kind.index(kinds.len())];
        if kind.electric.is_some_and(|e| engine(e.role, e.network)) {
            self.tie(kind, plan, &[("feeds", top)]);
            return;
        }
        let network = kind.electric.map(|e| e.network);
        let from = match network {
            Some(Network::Pv) => {
                // Which array does not hang on which controller.
                let own = PartPlan { kind: plan.feeder, ..plan.clone() };
                let array = self.of_role(Role::Array, Network::Pv, &own, &[]);
                let isolator = |site: &mut Self, a: &String| {
                    site.of_role(Role::Disconnect, Network::Pv, plan, &[("fed_from", a.clone())])
                };
                array.map(|a| if plan.place.index(3) > 0 { isolator(self, &a).unwrap_or(a) } else { a })
            }
            Some(Network::Start) => {
                let battery = self.has(Role::StartBattery);
                let battery = battery.or_else(|| self.of_role(Role::StartBattery, Network::Start, plan, &[]));
                if let (Some(battery), None, true) = (&battery, self.has(Role::Alternator), plan.place.index(2) == 0) {
                    self.of_role(Role::Alternator, Network::Start, plan, &[("feeds", battery.clone())]);
                }
                battery
            }
            _ => self.has(Role::Inlet).or_else(|| self.of_role(Role::Inlet, Network::Ac, plan, &[])),
        };
        if let Some(from) = from {
            self.tie(kind, plan, &[("fed_from", from), ("feeds", top)]);
        }
    }

    /// Shore and inverter down to the consumer unit, as `form` says.
    fn ac(&mut self, form: u8, plans: &[PartPlan], top: Option<&str>) {
        let [inlet, inverter, transfer, rcd, unit, bond, chassis, shore] = plans else { return };
        if form == 0 {
            return;
        }
        let shore_in =
            |site: &mut Self| site.has(Role::Inlet).or_else(|| site.of_role(Role::Inlet, Network::Ac, inlet, &[]));
        let mut at = match (form, top) {
            (2, None) => return,
            (2, _) => None,
            _ => shore_in(self),
        };
        if let (Some(id), true) = (&at, inlet.die.share.is_multiple_of(3)) {
            let of = |t: &&mut Table| t.section == "component" && t.id.as_ref() == Some(id);
            if let Some(table) = self.draft.tables.iter_mut().find(of) {
                table.fields.insert("lines".to_owned(), Value::from(2));
            }
        }
        if let (3, Some(from)) = (form, at.clone()) {
            let before = self.of_role(Role::AcPanel, Network::Ac, shore, &[("fed_from", from.clone())]).unwrap_or(from);
            at = self.of_role(Role::Transfer, Network::Ac, transfer, &[("fed_from", before)]);
        }
        let switch = at.clone();
        let links =
            |to: &str| -> Vec<(&'static str, String)> { at.iter().map(|_| ("fed_from", to.to_owned())).collect() };
        let mut below = None;
        if rcd.place.index(4) > 0 {
            let fed = switch.as_deref().filter(|_| form != 4);
            below = self.of_role(Role::Rcd, Network::Ac, rcd, &fed.map_or_else(Vec::new, links));
        }
        let fed = below.clone().or_else(|| switch.clone().filter(|_| form != 4));
        let fed: Vec<_> = fed.map(|f| ("fed_from", f)).into_iter().collect();
        let Some(main) = self.of_role(Role::AcPanel, Network::Ac, unit, &fed) else { return };
        let first = below.unwrap_or_else(|| main.clone());
        if let Some(top) = top.map(str::to_owned) {
            let fed = ("fed_from", top);
            match form {
                2 => drop(self.of_role(Role::Inverter, Network::Dc, inverter, &[fed, ("feeds", first)])),
                3 => {
                    let to = ("feeds", switch.clone().unwrap_or(first));
                    // A generator needs nothing of the bank.
                    if inverter.place.index(3) == 0 {
                        drop(self.of_role(Role::Generator, Network::Dc, inverter, &[to]));
                    } else {
                        drop(self.of_role(Role::Inverter, Network::Dc, inverter, &[fed, to]));
                    }
                }
                4 => {
                    let mut ties = vec![fed, ("feeds", first)];
                    ties.extend(switch.clone().map(|s| ("shore_from", s)));
                    drop(self.of_role(Role::InverterCharger, Network::Dc, inverter, &ties));
                }
                _ => {}
            }
        }
        // Bonds have no part in the network that their role could tell.
        let named = |word: &str| LIBRARY.iter().find(|k| k.id.ends_with(word));
        for (word, plan) in [("earth-bond", bond), ("chassis-bond", chassis)] {
            if let (Some(kind), true) = (named(word), plan.place.index(5) > 0) {
                self.add(kind, plan, &[]);
            }
        }
    }

    /// Panels get the ways they need, and a few components theirs by number.
    fn give_ways(&mut self) {
        for placed in &self.placed {
            let has = placed.kind.electric.is_some_and(|e| e.role.has_ways());
            let declared = fields_of(&placed.kind.id).get("ways");
            let bound = |v: &Option<Value>| v.as_ref().and_then(Value::as_integer);
            let Some(ways) = declared.filter(|_| has) else { continue };
            let (low, high) = (bound(&ways.min).unwrap_or(1), bound(&ways.max).unwrap_or(12));
            let wanted = i64::try_from(placed.children).unwrap_or(1).clamp(low, high);
            let of = |t: &&mut Table| t.section == "component" && t.id.as_deref() == Some(placed.id.as_str());
            if let Some(table) = self.draft.tables.iter_mut().find(of) {
                table.fields.insert("ways".to_owned(), Value::from(wanted));
                table.needed.push("ways".to_owned());
            }
            // From the last way down, so that open ones have to find their way around them.
            let fed = |t: &&mut Table| t.fields.get("fed_from").and_then(Value::as_str) == Some(placed.id.as_str());
            let given = |t: &&mut Table| self.placed.iter().any(|p| p.way && t.id.as_deref() == Some(p.id.as_str()));
            for (n, table) in (0..wanted).zip(self.draft.tables.iter_mut().filter(fed).filter(given)) {
                table.fields.insert("way".to_owned(), Value::from(wanted - n));
            }
        }
    }

    /// Adds one component anywhere.
    pub(super) fn one_more(mut self, plan: &PartPlan) -> Draft {
        self.free(&free_kinds(), plan);
        self.draft
    }
}

/// Whether a component of `kind` makes sense in the field `name`.
fn suits(name: &str, kind: &Kind) -> bool {
    let role = |wanted: &[Role]| kind.electric.is_some_and(|e| wanted.contains(&e.role));
    let water = |wanted: &[PlumbingRole]| kind.plumbing.is_some_and(|p| wanted.contains(&p.role));
    match name {
        "mirrors" => role(&[Role::Bus]),
        "returns_to" => role(&[Role::Bank, Role::Shunt]),
        "warms" | "shows" => role(&[Role::Bank]),
        "tank" | "tanks" | "drains" => water(&[PlumbingRole::FreshTank, PlumbingRole::GreyTank]),
        "drains_to" => water(&[PlumbingRole::GreyTank]),
        "compressor" => kind.air.is_some(),
        "inverter_from" | "switched_by" => role(&[Role::Inverter, Role::InverterCharger]),
        "proved_by" => role(&[Role::Rcd]),
        "equipment" => kind.electric.is_some_and(|e| e.network == Network::Ac),
        "protects" => water(&[PlumbingRole::Pipe]),
        "from" | "to" => kind.plumbing.is_some_and(|p| p.role != PlumbingRole::Pipe),
        "bypass_of" => water(&[PlumbingRole::MotorValve]),
        "window" => kind.thermal.is_some_and(|t| t.role == ThermalRole::Window),
        "master_switch" => role(&[Role::Control]),
        "seat" => kind.id.contains("seat"),
        "on" => kind.load.as_ref().is_some_and(|l| l.rating.is_some()),
        _ => true,
    }
}

/// Picks one of several.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "indices are rolled and stay in their plan")]
pub(super) fn pick<'a, T>(index: &Index, of: &'a [T]) -> Option<&'a T> {
    (!of.is_empty()).then(|| index.get(of))
}
