//! What is rolled for a build. It shrinks by itself: fewer parts, fewer fields, tamer values; `wiring` makes a build of
//! whatever is left.

use super::value::Die;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;

/// A field and its value.
#[derive(Clone, Debug)]
pub(super) struct FieldPlan {
    pub(super) field: Index,
    pub(super) die: Die,
}

/// A component.
#[derive(Clone, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each is rolled by itself")]
pub(super) struct PartPlan {
    /// Which kind of those that may stand here.
    pub(super) kind: Index,
    /// Which feeder of those there are.
    pub(super) feeder: Index,
    /// Which place.
    pub(super) place: Index,
    /// How many alike; nearly always one.
    pub(super) count: u8,
    /// Stands nowhere.
    pub(super) placeless: bool,
    /// Copies from an earlier one of its kind.
    pub(super) like: bool,
    /// Has no cable length.
    pub(super) runless: bool,
    /// Has its way given, if it gets one.
    pub(super) way: bool,
    /// For its required values.
    pub(super) die: Die,
    /// Its other fields.
    pub(super) fields: Vec<FieldPlan>,
}

/// One table of a section with many, such as a climate.
#[derive(Clone, Debug)]
pub(super) struct TablePlan {
    /// For its required values.
    pub(super) die: Die,
    /// Its other fields.
    pub(super) fields: Vec<FieldPlan>,
}

/// A kind of the shop.
#[derive(Clone, Debug)]
pub(super) struct KindPlan {
    /// Which of the kinds there are it is like, and which of its parts change.
    pub(super) of: Index,
    pub(super) die: Die,
    /// The first of its texts.
    pub(super) line: u16,
    /// What it says, a bit each.
    pub(super) what: u16,
    /// It bears the name of the kind that it is like.
    pub(super) shadows: bool,
}

/// A shop's folder.
#[derive(Clone, Debug)]
pub(super) struct ShopPlan {
    /// Which parts come from stock, and which of their fields the item gives, a bit each.
    pub(super) items: Vec<(Index, u16)>,
    /// Its own kinds.
    pub(super) kinds: Vec<KindPlan>,
    /// The kinds change nothing: the build is the one without the folder.
    pub(super) same: bool,
}

/// A whole build.
#[derive(Clone, Debug)]
pub(super) struct BuildPlan {
    /// Values of `[build]`, `[vehicle]`, `[use]`.
    pub(super) settings: Vec<FieldPlan>,
    /// Gives all of `[vehicle]`.
    pub(super) whole_vehicle: bool,
    /// Climates, shells, places, contacts, tasks, stages.
    pub(super) tables: [Vec<TablePlan>; 6],
    /// Parts of the spine from the bank to the busbar; an empty one: a build without a bank.
    pub(super) spine: Vec<PartPlan>,
    /// Panels, dimmers, switches, relays, in any depth.
    pub(super) distribution: Vec<PartPlan>,
    /// Chargers with what they charge from.
    pub(super) chargers: Vec<PartPlan>,
    /// Shore, inverter, both with a transfer switch, an inverter and charger in one, or none.
    pub(super) ac: u8,
    /// Parts of the AC side.
    pub(super) ac_parts: Vec<PartPlan>,
    /// Everything else.
    pub(super) parts: Vec<PartPlan>,
    /// What errors point at is taken out until there are none.
    pub(super) mended: bool,
    /// Which warnings are accepted.
    pub(super) accepted: Vec<Index>,
    /// What was recorded.
    pub(super) recorded: Vec<(Index, u8)>,
    /// How many stages are signed.
    pub(super) signed: u8,
    /// The shop's folder.
    pub(super) shop: ShopPlan,
}

pub(super) fn die() -> impl Strategy<Value = Die> {
    let wild = prop::bool::weighted(0.12);
    (any::<u16>(), any::<u16>(), wild).prop_map(|(which, share, wild)| Die { which, share, wild })
}

pub(super) fn field() -> impl Strategy<Value = FieldPlan> {
    (any::<Index>(), die()).prop_map(|(field, die)| FieldPlan { field, die })
}

pub(super) fn part() -> impl Strategy<Value = PartPlan> {
    let rarely = || prop::bool::weighted(0.08);
    let count = prop_oneof![12 => Just(1_u8), 1 => 2_u8..5];
    let indices = (any::<Index>(), any::<Index>(), any::<Index>());
    (indices, count, rarely(), rarely(), rarely(), rarely(), die(), vec(field(), 0..5)).prop_map(
        |((kind, feeder, place), count, placeless, like, runless, way, die, fields)| PartPlan {
            kind,
            feeder,
            place,
            count,
            placeless,
            like,
            runless,
            way,
            die,
            fields,
        },
    )
}

fn tables(most: usize) -> impl Strategy<Value = Vec<TablePlan>> {
    let table = (die(), vec(field(), 0..5)).prop_map(|(die, fields)| TablePlan { die, fields });
    vec(table, 0..=most)
}

impl ShopPlan {
    /// What the parts were rolled by serves once more, so that a folder changes no build that is drawn.
    fn of(parts: &[PartPlan]) -> Self {
        let items = parts.iter().skip(1).step_by(4).take(5).map(|part| (part.feeder, part.die.which));
        let kinds = parts.iter().skip(2).step_by(9).take(2).map(|part| KindPlan {
            of: part.place,
            die: part.die,
            line: part.die.share,
            what: part.die.which.rotate_left(5) ^ part.die.share,
            shadows: part.die.share.is_multiple_of(3),
        });
        Self { items: items.collect(), kinds: kinds.collect(), same: false }
    }
}

/// A build of up to `most` parts beside its spine.
pub(super) fn build(most: usize) -> impl Strategy<Value = BuildPlan> {
    let fixed = (vec(field(), 0..16), prop::bool::weighted(0.6));
    let tables = [tables(3), tables(5), tables(7), tables(2), tables(2), tables(2)];
    let spine = prop_oneof![1 => Just(Vec::new()), 9 => vec(part(), 5)];
    let dc = (spine, vec(part(), 0..6), vec(part(), 0..4));
    let ac = (0_u8..5, vec(part(), 8));
    let record = (vec(any::<Index>(), 0..3), vec((any::<Index>(), any::<u8>()), 0..8), 0_u8..14);
    (fixed, tables, dc, ac, vec(part(), 0..=most), prop::bool::weighted(0.8), record).prop_map(
        |(fixed, tables, dc, ac, parts, mended, record)| BuildPlan {
            shop: ShopPlan::of(&parts),
            settings: fixed.0,
            whole_vehicle: fixed.1,
            tables,
            spine: dc.0,
            distribution: dc.1,
            chargers: dc.2,
            ac: ac.0,
            ac_parts: ac.1,
            parts,
            mended,
            accepted: record.0,
            recorded: record.1,
            signed: record.2,
        },
    )
}
