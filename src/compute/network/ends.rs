//! The two ends of a conductor: ring or ferrule, stud or screw, and torque, as far as the build knows them.

use super::{DeviceAt, Electrical};
use crate::build::{Build, Circuit, Conductor, Feeding, Landing, Purpose, VEHICLE};
use crate::compute::formulas::electrical as f;
use crate::compute::ledger::{Amount, Formula, Ledger};
use crate::kinds::{Kind, Post, PostForm};
use crate::tables::conductor_series::Series;
use crate::tables::fuse_series::Family;
use crate::tables::{fuse_holder, rings, terminal_torque};
use crate::units::{ConductorSize, Dimension, System, parse_quantity, print};
use serde::Serialize;

/// Stands where nobody but the maker knows.
pub const MAKERS: &str = "to the maker's figure";

/// Where a torque comes from that the spec or a stock item gives.
const BY_MAKER: &str = "its maker";

/// Where the torques by conductor come from, in short.
const BY_CONDUCTOR: &str = "UL 486A-486B (NEC Table I.1)";

/// One end of a conductor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ConductorEnd {
    /// Conductor; `None` for a lead of the maker.
    pub size: Option<ConductorSize>,
    /// Ring or ferrule; `None` where the kind of the part does not tell.
    pub form: Option<PostForm>,
    /// Thread of its stud or screw, "" where it is not known.
    pub thread: String,
    /// Torque in N m.
    pub torque: Option<f64>,
    /// Where the torque comes from, in short.
    pub basis: String,
    /// Number of its stud on a bar or bonding point with several.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stud: Option<usize>,
    /// Others come to the same blade: all are spliced to one short lead with the receptacle.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub joined: bool,
}

/// The holder of a fuse in the line of a conductor. It parts the conductor and has two ends of its own.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Holder {
    /// Which end of the conductor it sits at: 0 where this begins, 1 where it ends.
    pub at: usize,
    /// Its ends: the first toward where the conductor begins.
    pub ends: [ConductorEnd; 2],
}

impl ConductorEnd {
    const fn of(size: Option<ConductorSize>, form: Option<PostForm>) -> Self {
        Self { size, form, thread: String::new(), torque: None, basis: String::new(), stud: None, joined: false }
    }

    /// Whether nothing is tightened there: it is pushed on, plugged in or spliced.
    #[must_use]
    pub fn is_untightened(&self) -> bool {
        self.form.is_some_and(PostForm::is_untightened)
    }

    /// "ring 8 AWG × M5", "ferrule 8 AWG"; of an end that is not known "8 AWG". What is too thick for the receptacle of a
    /// blade, or shares it, is spliced to a short lead that has one.
    #[must_use]
    pub fn lug(&self) -> String {
        let size = self.size.map_or_else(String::new, |size| size.to_string());
        if let Some(lead) = self.lead() {
            let (splice, push_on) = (PostForm::Splice.word(), PostForm::PushOn.word());
            return format!("{splice} {size} to a short lead of {lead} with {push_on}");
        }
        let form = self.form.map_or("", PostForm::word);
        let thread = self.threaded().map_or_else(String::new, |thread| format!("× {thread}"));
        [form, &size, &thread].into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// The same beside the size of its conductor, which it leaves out: "ring M5", "ferrule"; "" of an end that is not
    /// known.
    #[must_use]
    pub fn form_of_lug(&self) -> String {
        if let Some(lead) = self.lead() {
            return format!("{} to {lead} with {}", PostForm::Splice.word(), PostForm::PushOn.word());
        }
        let form = self.form.map_or("", PostForm::word);
        [form, self.threaded().unwrap_or_default()].into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// Thread of the stud that a ring goes on.
    fn threaded(&self) -> Option<&str> {
        Some(self.thread.as_str()).filter(|thread| self.form == Some(PostForm::Ring) && !thread.is_empty())
    }

    /// The short lead between it and a blade that has no receptacle for it alone.
    #[must_use]
    pub fn lead(&self) -> Option<ConductorSize> {
        let size = self.size.filter(|_| self.form == Some(PostForm::PushOn))?;
        let is_sold = rings::has_push_on(size);
        if is_sold && !self.joined {
            return None;
        }
        if is_sold { Some(size) } else { rings::thickest_push_on(Series::of(size)) }
    }

    /// Lug and torque: "ring 8 AWG × M5, 3 N m".
    #[must_use]
    pub fn show(&self, system: System) -> String {
        let torque = self.torque.map_or_else(|| MAKERS.to_owned(), |t| print(Dimension::Torque, t, system));
        format!("{}, {torque}", self.lug())
    }
}

/// Whether what [`ConductorEnd::show`] printed tells more than what the maker alone knows: a ring for a stud, or a torque.
#[must_use]
pub fn is_told(shown: &str) -> bool {
    shown.starts_with(PostForm::Ring.word()) || !shown.ends_with(MAKERS)
}

/// The end of a conductor of that size at a landing.
pub(super) fn end(build: &Build<'_>, landing: &Landing, size: Option<ConductorSize>) -> ConductorEnd {
    let known = build.parts.get(&landing.part).and_then(|part| Some((part, part.post(landing)?)));
    let Some((part, post)) = known else {
        // A loom is tapped by a joint; a post that is only told in words is whatever it is.
        return ConductorEnd::of(size, (landing.part == VEHICLE).then_some(PostForm::Splice));
    };
    let thread = part.thread(post).unwrap_or_default().to_owned();
    let given = part.said_of_post(&post.id).and_then(|said| said.torque.get());
    let known = if let Some(torque) = given {
        Some((torque.0, BY_MAKER.to_owned()))
    } else if post.by_conductor {
        size.and_then(terminal_torque::slotted).map(|torque| (torque, BY_CONDUCTOR.to_owned()))
    } else {
        of_fastener(part.kind, post, &thread)
    };
    let (torque, basis) = known.map_or((None, String::new()), |(torque, basis)| (Some(torque), basis));
    ConductorEnd { size, form: part.form(post), thread, torque, basis, stud: None, joined: false }
}

/// The holder in the line of a conductor, by the fuse it has of its own or by the device of its circuit; `None` where its
/// fuse sits in a way or is a part.
pub(super) fn holder(
    build: &Build<'_>,
    all: &Electrical,
    conductor: &Conductor,
    size: Option<ConductorSize>,
) -> Option<Holder> {
    let (family, rating, at) = if conductor.fuse.is_some() {
        let bank = all.banks.get(&conductor.owner).filter(|_| conductor.purpose == Purpose::Battery);
        (bank.and_then(|bank| bank.batteries.as_ref()).and_then(|b| b.family), conductor.fuse, 0)
    } else {
        let circuit = build.circuits.get(conductor.circuit.as_ref()?)?;
        let device = &all.circuits.get(&circuit.id)?.device;
        // At the end that the bank can feed a fault into.
        let at = usize::from(circuit.feeding == Feeding::Output);
        let source = [&circuit.from, &circuit.to][at];
        let is_there = matches!(conductor.purpose, Purpose::Circuit | Purpose::Beside)
            && !conductor.is_back()
            && conductor.ends()[at].part == *source;
        (device.family.filter(|_| is_there && device.at == DeviceAt::InLine).map(Some)?, device.rating, at)
    };
    let studs = family.zip(rating).and_then(|(family, rating)| fuse_holder::of(family, rating)).map(|h| h.stud);
    let form = studs.map_or_else(|| holder_form(family), |stud| (!stud.is_empty()).then_some(PostForm::Ring));
    let end = || ConductorEnd { thread: studs.unwrap_or_default().to_owned(), ..ConductorEnd::of(size, form) };
    Some(Holder { at, ends: [end(), end()] })
}

/// How a conductor ends at a holder: small ones bring leads of their own, large ones have studs. Common practice, no source.
const fn holder_form(family: Option<Family>) -> Option<PostForm> {
    use Family::{
        AcBreakerEu, AcBreakerUs, Blade, ClassT, DcBreaker, LargeBoltDown, MaxiBlade, MiniBlade, SmallBoltDown,
        TerminalCube,
    };
    match family {
        None | Some(Blade | MiniBlade | MaxiBlade) => Some(PostForm::Splice),
        Some(TerminalCube | ClassT | SmallBoltDown | LargeBoltDown) => Some(PostForm::Ring),
        Some(DcBreaker | AcBreakerUs | AcBreakerEu) => None,
    }
}

/// Which post an end is on in words, also where a label lets that go without saying: "plus", "way 5", "stud 3".
#[must_use]
pub fn post_words(build: &Build<'_>, landing: &Landing, end: Option<&ConductorEnd>) -> String {
    let own = landing.post.replace('-', " ");
    let words = landing.terminal(build);
    // A fitting, a battery or a source has several posts.
    let is_pole = matches!(landing.post.as_str(), "plus" | "minus" | "line" | "line-two" | "neutral" | "earth");
    let post = match words.as_str() {
        "" => own,
        several if is_pole && !landing.words.is_empty() && !several.contains(&own) => format!("{several}, {own}"),
        _ => words,
    };
    // Which of both bars, and where on it.
    let post = match landing.post.strip_prefix("bar-") {
        Some(pole) if landing.is_collecting_bar() && end.is_some_and(|end| end.stud.is_some()) => format!("{pole} bar"),
        _ => post,
    };
    match end.and_then(|end| end.stud) {
        Some(n) if post == "stud" => format!("stud {n}"),
        Some(n) => format!("{post}, stud {n}"),
        None => post,
    }
}

/// The thinnest conductor of a series that there are rings of for the studs that the conductors of a circuit end on; `None`
/// where no stud asks.
pub(super) fn least_ring(build: &Build<'_>, circuit: &Circuit, series: Series) -> Option<ConductorSize> {
    let own = build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Circuit);
    let least = |landing: &Landing| {
        let part = build.parts.get(&landing.part)?;
        let post = part.post(landing).filter(|post| part.form(post) == Some(PostForm::Ring))?;
        Some(rings::of_stud(part.thread(post).unwrap_or_default())?.range(series)?.0)
    };
    let all = own.flat_map(Conductor::ends).filter_map(least);
    all.reduce(|a, b| if b.area() > a.area() { b } else { a })
}

/// Torque and source of the row that a kind has for a fastener.
fn of_fastener(kind: &Kind, post: &Post, thread: &str) -> Option<(f64, String)> {
    let row = kind.torque_of(post, thread)?;
    let torque = parse_quantity(&row.figure(&row.what)?, Dimension::Torque).ok()?;
    let basis = row.basis(&row.what).split(';').next().unwrap_or_default().trim().to_owned();
    Some((torque.value, basis))
}

/// Enters the ends of a circuit of which something is known: where its positive or line starts, and where it ends.
pub(super) fn enter(build: &Build<'_>, all: &Electrical, circuit: &Circuit, ledger: &mut Ledger) {
    let live = build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Circuit && !c.is_back());
    let figures: Vec<_> = live.filter_map(|c| all.conductors.get(&c.id)).collect();
    let ends = figures.first().zip(figures.last()).map(|(first, last)| [&first.ends[0], &last.ends[1]]);
    let Some([start, end]) = ends else { return };
    let mut enter = |formula: &'static Formula, end: &ConductorEnd| {
        if end.form.is_none() || (end.thread.is_empty() && end.torque.is_none()) {
            return;
        }
        let torque = end.torque.map_or_else(|| Amount::Word(MAKERS.to_owned()), |t| Amount::Of(Dimension::Torque, t));
        let form = match end.form {
            Some(PostForm::Ring) => format!("ring × {}", end.thread),
            form => form.map_or("", PostForm::word).to_owned(),
        };
        let basis = if end.basis.is_empty() { "maker".to_owned() } else { end.basis.clone() };
        let size = end.size.map_or_else(String::new, |size| size.to_string());
        ledger.enter(formula, &circuit.id, torque, vec![size.into(), form.into(), basis.into()], None);
    };
    enter(&f::END_AT_START, start);
    enter(&f::END_AT_END, end);
}
