//! Beads: strips that hold a pane or a panel in its frame, mitred at the corners and
//! pinned. The word makes them itself, of a board of the job.

use crate::geometry::{DVec3, Outline, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::shaped;
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::{TOUCH, side_of};
use crate::joinery::bench::row::{self, Named, Row};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::{NOISE, ONE_WAY, PARALLEL};
use crate::joinery::bench::worked::Insert;
use crate::joinery::channels::rebate;
use crate::joinery::facts::Facts;
use crate::joinery::facts::channels::{Beaded, Channel};
use crate::joinery::facts::item::{Fastener, sizes};
use crate::joinery::facts::traits::Traits;
use crate::joinery::hanging::hanging_cleat::rod;
use crate::model::{Arg, Form, OptionKind, OptionSpec, Part, Side, StockKind, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `beads`.
pub(in crate::joinery) struct Beads;

/// What `beads` says of itself.
static WORD: Word = Word {
    name: "beads",
    args: &[
        Arg { name: "pane", takes: Takes::Part },
        Arg { name: "frame", takes: Takes::Parts },
        Arg { name: "stock", takes: Takes::Value(OptionKind::Stock) },
    ],
    options: &[
        OptionSpec {
            key: "side",
            kind: OptionKind::Sides,
            default: &[Usual::Words("back")],
            says: "the side of the piece the rebate is open to; both sides where there is no rebate and the pane stands \
                   between two rows of beads",
        },
        OptionSpec {
            key: "width",
            kind: OptionKind::Length { min: 3.0, max: 60.0 },
            default: &[
                Usual::Words("the narrowest rebate, so that the bead ends with the frame; without one "),
                Usual::Length(WIDTH),
            ],
            says: "how far the bead lies over the pane, from the shoulder of the rebate",
        },
        OptionSpec {
            key: "thick",
            kind: OptionKind::Length { min: 3.0, max: 60.0 },
            default: &[Usual::Words("flush with the frame")],
            says: "how thick the bead is, off the pane",
        },
        OptionSpec {
            key: "round",
            kind: OptionKind::Length { min: 0.5, max: 40.0 },
            default: &[Usual::Words("square")],
            says: "radius that the free arris, away from pane and frame, is rounded to",
        },
        OptionSpec {
            key: "pin",
            kind: OptionKind::Pair,
            default: &[Usual::Screw(PIN.0, PIN.1)],
            says: "diameter and length of the pins",
        },
        OptionSpec {
            key: "spacing",
            kind: OptionKind::Length { min: 30.0, max: 600.0 },
            default: &[Usual::Length(ROW.spacing)],
            says: "greatest distance between pins",
        },
    ],
    says: "holds a pane or panel in a frame by mitred beads that it makes of the stock and pins to each part of the frame, \
           without glue; they go in when the piece is finished",
    rule: "a bead of at least 4 mm behind the pane; pins at most 150 mm apart, at least 8 mm of them in the frame (common \
           practice, no source)",
    example: "for member in [left, right, bottom, top] { rebate(glass, member, #{ clearance: 1.5 }); }\n\
              beads(glass, [left, right, bottom, top], oak, #{ round: 3 });",
};

/// Least of a bead behind the pane, mm.
const BEHIND: f64 = 4.0;
/// Width of a bead where no rebate gives it one, mm.
const WIDTH: f64 = 10.0;
/// The usual pin, mm: as thin as goes through a bead without splitting it.
const PIN: (f64, f64) = (1.2, 20.0);
/// Least of a pin in the frame, mm.
const HOLD: f64 = 8.0;
/// Wood a pin leaves beyond its point, mm.
const BEYOND_POINT: f64 = 3.0;
/// Widest joint a pane may leave to the wood round it where no rebate holds it, mm.
const GAP: f64 = 5.0;
/// How pins are set out, mm: from the corners, whose mitres they would split.
const ROW: Row = Row { spacing: 150.0, inset: 40.0, apart: 20.0, edge: 10.0 };

impl Joinery for Beads {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { waits_for_finish: true, ..Traits::default() }
    }

    fn bring(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Part>, Problem> {
        let set = Set::of(bench, work)?;
        set.beads.iter().map(|bead| set.part(bench, work, bead)).collect()
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        // Without its beads the job was laid out wrong, and that is told.
        let Some(mine) = work.parts.get(2) else { return Ok(Vec::new()) };
        let set = Set::of(bench, work)?;
        let mut all = Vec::new();
        for (bead, part) in set.beads.iter().zip(mine) {
            all.push(set.made(bench, work, bead, part.0)?);
            if let Some(shape) = set.rounded(bead) {
                // Shaping of the strip, not part of how it is held: a detail of that gives
                // no sizes of it.
                let cut = Sawn { part: part.0, kind: CutKind::RoundOver, shape };
                all.extend(shaped(part.0, vec![cut]));
            }
        }
        Ok(all)
    }
}

/// All beads of a pane.
struct Set {
    pane: usize,
    /// Across the pane and off it, mm.
    width: f64,
    pin: [f64; 2],
    round: Option<f64>,
    beads: Vec<Bead>,
}

/// Where a bead lies: places along unit directions of the piece, mm.
#[derive(Clone, Copy)]
struct Bead {
    /// The part of the frame it is pinned to.
    member: usize,
    /// Into that part.
    into: DVec3,
    /// Off the pane, to the side it is put in from.
    out: DVec3,
    /// The shoulder or face it lies against, along `into`.
    wall: f64,
    /// What it lies on, along `out`.
    seat: f64,
    /// The face of the frame, along `out`.
    face: f64,
    /// The inner edge of the frame, along `into`; the wall where there is no rebate.
    inner: f64,
    /// Its ends along `run`, at the wall.
    ends: [f64; 2],
    /// Whether it is mitred there.
    mitred: [bool; 2],
    /// Its thickness, mm.
    thick: f64,
}

impl Bead {
    /// Along it, so that x, y off the wall and z off the face are right-handed.
    fn run(&self) -> DVec3 {
        self.into.cross(self.out)
    }

    /// A point by its places.
    fn at(&self, run: f64, into: f64, out: f64) -> DVec3 {
        self.run() * run + self.into * into + self.out * out
    }

    fn length(&self) -> f64 {
        self.ends[1] - self.ends[0]
    }
}

impl Set {
    /// The beads asked for; errors where they have nothing to lie in or to be held by.
    fn of(bench: &Bench<'_>, work: &Work) -> Result<Self, Problem> {
        let pane = bench.part(work, 0)?;
        bench.part(work, 1)?;
        let frame: Vec<usize> = work.parts.get(1).into_iter().flatten().map(|p| p.0).collect();
        let sides = work.options.sides("side").map_or_else(|| vec![Side::Back], <[Side]>::to_vec);
        let mut beads: Vec<Bead> = Vec::new();
        for side in &sides {
            let out = side.normal();
            if bench.placed[pane].at.z.dot(out).abs() < PARALLEL {
                return Err(no_face(bench, work, pane, *side));
            }
            for &member in frame.iter().filter(|m| **m < bench.placed.len()) {
                bench.check_pair(work, pane, member)?;
                let bead = lie(bench, work, [pane, member], out, &sides)?;
                once(bench, work, &beads, &bead)?;
                beads.push(bead);
            }
        }
        meet_at_corners(&mut beads);
        let (thin, long) = work.options.pair("pin").unwrap_or_else(|| bench.usual_pin(PIN));
        let narrowest =
            beads.iter().map(|b| b.wall - b.inner).filter(|w| *w > TOUCH).fold(f64::INFINITY, f64::min);
        // By the narrowest rebate: mitres meet only where beads are alike, and none may
        // stand out of its frame.
        let usual = if narrowest.is_finite() { narrowest } else { WIDTH };
        let width = work.options.number("width").unwrap_or(usual);
        let mut set = Self { pane, width, pin: [thin, long], round: work.options.number("round"), beads };
        set.thicken(bench, work)?;
        set.fits(bench, work)?;
        Ok(set)
    }

    /// Gives every bead its thickness: that asked for, or flush with the lowest part of the
    /// frame on its side, since mitres meet only where beads are alike.
    fn thicken(&mut self, bench: &Bench<'_>, work: &Work) -> Result<(), Problem> {
        let all = self.beads.clone();
        for bead in &mut self.beads {
            let alike = all.iter().filter(|other| other.out.dot(bead.out) > ONE_WAY);
            let flush = alike.map(|b| b.face - b.seat).fold(f64::INFINITY, f64::min);
            // A bead that is asked for thicker stands proud, which is its maker's choice.
            bead.thick = work.options.number("thick").unwrap_or(flush);
            if bead.thick < BEHIND - NOISE {
                return Err(shallow(bench, work, [self.pane, bead.member], bead.thick));
            }
        }
        Ok(())
    }

    /// Width, arris and pins against the pane and the frame.
    fn fits(&self, bench: &Bench<'_>, work: &Work) -> Result<(), Problem> {
        let refuse =
            |code, message: String, bead: &Bead| bench.error(work, code, message, &[self.pane, bead.member]);
        for bead in &self.beads {
            if 2.0 * self.width > bead.length() - NOISE {
                let message = format!(
                    "beads {} wide meet in the middle of `{}`, which has {} between them there",
                    bench.mm(self.width),
                    bench.name(self.pane),
                    bench.mm(bead.length())
                );
                return Err(refuse("does-not-fit", message, bead).help("make `width` less"));
            }
            if let Some(round) = self.round.filter(|r| *r > self.width.min(bead.thick) - TOUCH) {
                let message = format!(
                    "an arris rounded {} leaves nothing of the edge of a bead {} × {}",
                    bench.mm(round),
                    bench.figure(self.width),
                    bench.mm(bead.thick)
                );
                return Err(refuse("nothing-left", message, bead).help("make `round` less"));
            }
            self.pinned(bench, work, bead)?;
        }
        Ok(())
    }

    /// The pin against the part of the frame it is to hold in.
    fn pinned(&self, bench: &Bench<'_>, work: &Work, bead: &Bead) -> Result<(), Problem> {
        let [_, long] = self.pin;
        let holds = long - self.width;
        let most = bench.placed[bead.member].reach(bead.into).1 - bead.wall - BEYOND_POINT;
        if holds >= HOLD - NOISE && holds <= most + NOISE {
            return Ok(());
        }
        let name = bench.name(bead.member);
        let (code, message) = if holds < HOLD {
            let held = bench.mm(holds.max(0.0));
            let message = format!(
                "a pin {} long goes through {} of bead and holds {held} in `{name}`; it needs {}",
                bench.mm(long),
                bench.mm(self.width),
                bench.mm(HOLD)
            );
            ("does-not-fit", message)
        } else {
            let message = format!(
                "a pin {} long goes {} into `{name}`, which has {} behind the bead; {} must stay",
                bench.mm(long),
                bench.mm(holds),
                bench.mm((most + BEYOND_POINT).max(0.0)),
                bench.mm(BEYOND_POINT)
            );
            ("breaks-through", message)
        };
        let problem = bench.error(work, code, message, &[self.pane, bead.member]);
        Err(if most < HOLD {
            problem.help("let the frame be wider there, or make `width` less")
        } else {
            problem.help(format!(
                "pins of {} to {} hold in it: `pin: \"1.2x{}\"`",
                bench.mm(self.width + HOLD),
                bench.mm(self.width + most),
                bench.figure((self.width + HOLD).ceil())
            ))
        })
    }

    /// A bead as a part: face mark on the side seen, edge mark to the frame.
    fn part(&self, bench: &Bench<'_>, work: &Work, bead: &Bead) -> Result<Part, Problem> {
        let stock = work.options.stock("stock").filter(|s| s.0 < bench.job.stock.len());
        let found = stock.and_then(|s| bench.job.stock.get(s.0).map(|found| (s, found)));
        let Some((stock, _)) = found.filter(|(_, s)| matches!(s.kind, StockKind::Board { .. })) else {
            let message = "`beads` are cut from solid timber".to_owned();
            return Err(bench
                .error(work, "wrong-stock", message, &[self.pane])
                .help("give it a `board_stock`"));
        };
        let pane = bench
            .job
            .parts
            .get(self.pane)
            .ok_or_else(|| bench.error(work, "missing-argument", "`beads` needs a pane".into(), &[]))?;
        let origin = bead.at(bead.ends[0], bead.wall, bead.seat + bead.thick);
        Ok(Part {
            name: format!("{} bead", pane.name),
            piece: pane.piece,
            stock,
            at: Placement { origin, x: bead.run(), y: -bead.into, z: -bead.out },
            size: DVec3::new(bead.length(), self.width, bead.thick),
            form: Form::Flat,
            face: side_of(bead.out),
            edge: side_of(bead.into),
            remark: None,
            origin: work.origin,
        })
    }

    /// A bead cut and pinned.
    fn made(&self, bench: &Bench<'_>, work: &Work, bead: &Bead, part: usize) -> Result<Made, Problem> {
        let mut made =
            Made { parts: vec![bead.member, self.pane, part], ways_in: vec![-bead.out], ..Made::default() };
        let mitres = [(0, -1.0), (1, 1.0)].into_iter().filter(|(end, _)| bead.mitred[*end]);
        for (end, way) in mitres.clone() {
            let corner = bead.at(bead.ends[end], bead.wall, bead.seat);
            let shape = Prism::half_space(corner, (bead.run() * way - bead.into).normalize_or_zero());
            made.cuts.extend(shape.map(|shape| Sawn { part, kind: CutKind::Mitre, shape }));
        }
        // Pins stand between the short points, where the bead has its full width.
        let clear = [0, 1].map(|end| if bead.mitred[end] { self.width } else { 0.0 });
        let room = bead.length() - clear[0] - clear[1];
        let places = row::places(bench, work, &ROW, room, &Named { one: "pin", many: "pins" })?;
        let middle = bead.ends[0] + clear[0] + 0.5 * room;
        let at: Vec<Placement> = places
            .iter()
            .filter_map(|place| {
                let edge = bead.at(middle + place, bead.wall - self.width, bead.seat + 0.5 * bead.thick);
                Placement::looking(edge, bead.into, bead.out)
            })
            .collect();
        made.facts = Facts::Channels(Channel::Beaded(Beaded {
            width: self.width,
            thick: bead.thick,
            mitres: mitres.count(),
            round: self.round,
            pins: at.len(),
            pin: self.pin,
            apart: places.get(1).zip(places.first()).map_or(0.0, |(b, a)| b - a),
        }));
        let item = Fastener::Pin(sizes(self.pin)).into();
        made.inserts.push(Insert { item, at, body: Some(rod(self.pin[0], self.pin[1])) });
        Ok(made)
    }

    /// What lies outside the quarter round of the free arris.
    fn rounded(&self, bead: &Bead) -> Option<Prism> {
        let radius = self.round?;
        let arris = bead.at(bead.ends[0], bead.wall - self.width, bead.seat + bead.thick);
        // x runs from the arris to the frame, y to the pane, z back along the bead.
        let at = Placement::from_axes(arris, bead.into, -bead.out)?;
        let outline = Outline::outside_round(radius)?;
        let along = at.z.dot(bead.run()) * bead.length();
        Some(Prism { at, outline, from: along.min(0.0) - 1.0, to: along.max(0.0) + 1.0 })
    }
}

/// Too little room behind the pane.
fn shallow(bench: &Bench<'_>, work: &Work, [pane, member]: [usize; 2], thick: f64) -> Problem {
    let message = format!(
        "a bead behind `{}` is {} thick where `{}` ends; it needs {}",
        bench.name(pane),
        bench.mm(thick.max(0.0)),
        bench.name(member),
        bench.mm(BEHIND)
    );
    bench.error(work, "does-not-fit", message, &[pane, member]).help(format!(
        "set the pane {} further in, or let the beads stand proud with `thick`",
        bench.mm(BEHIND - thick)
    ))
}

/// Where the bead of one part of the frame lies, its thickness still open.
fn lie(
    bench: &Bench<'_>,
    work: &Work,
    [pane, member]: [usize; 2],
    out: DVec3,
    sides: &[Side],
) -> Result<Bead, Problem> {
    let (glass, wood) = (&bench.grown[pane], &bench.placed[member]);
    let edges = [glass.at.x, -glass.at.x, glass.at.y, -glass.at.y];
    // The part of the frame lies to that side of the pane of which most is clear of it.
    let clear = |way: DVec3| glass.reach(way).1 - wood.reach(way).1;
    let best = |best: DVec3, way: DVec3| if clear(way) > clear(best) + NOISE { way } else { best };
    let into = -edges.into_iter().fold(glass.at.x, best);
    let run = into.cross(out);
    let bed = rebate::bed(bench, pane, member);
    if bed.as_ref().is_some_and(|bed| bed.open.dot(out) < 0.0) {
        return Err(shut(bench, work, [pane, member], out));
    }
    let face = wood.reach(out).1;
    if let Some(bed) = bed {
        let room = bed.room;
        let (from, to) = room.reach(run);
        let (wall, seat) = (room.reach(into).1, room.reach(out).1);
        let inner = wood.reach(into).0;
        return Ok(Bead {
            member,
            into,
            out,
            wall,
            seat,
            face,
            inner,
            ends: [from, to],
            mitred: [false; 2],
            thick: 0.0,
        });
    }
    let wall = wood.reach(into).0;
    let gap = wall - glass.reach(into).1;
    if !(-TOUCH..=GAP + NOISE).contains(&gap) {
        return Err(no_rebate(bench, work, [pane, member], gap));
    }
    if !sides.iter().any(|side| side.normal().dot(out) < -ONE_WAY) {
        return Err(unbacked(bench, work, [pane, member], out));
    }
    let (from, to) = glass.reach(run);
    let seat = glass.reach(out).1;
    Ok(Bead {
        member,
        into,
        out,
        wall,
        seat,
        face,
        inner: wall,
        ends: [from, to],
        mitred: [false; 2],
        thick: 0.0,
    })
}

/// Lets beads of one side that meet at a corner run to one another's walls there and be
/// mitred.
fn meet_at_corners(beads: &mut [Bead]) {
    let all = beads.to_vec();
    for bead in beads {
        for other in all.iter().filter(|other| other.out.dot(bead.out) > ONE_WAY) {
            let turn = other.into.dot(bead.run());
            // Neither itself nor the one across the pane lies at an end of it.
            if turn.abs() > ONE_WAY {
                let end = usize::from(turn > 0.0);
                bead.ends[end] = other.wall * turn.signum();
                bead.mitred[end] = true;
            }
        }
    }
}

/// Refuses two beads on one edge of the pane.
fn once(bench: &Bench<'_>, work: &Work, beads: &[Bead], bead: &Bead) -> Result<(), Problem> {
    let same = |b: &&Bead| b.out.dot(bead.out) > ONE_WAY && b.into.dot(bead.into) > ONE_WAY;
    let Some(first) = beads.iter().find(same) else { return Ok(()) };
    let side = side_of(bead.into).name();
    let (one, two) = (bench.name(first.member), bench.name(bead.member));
    let message = format!("`{one}` and `{two}` both lie to the {side} of the pane: one bead holds that edge");
    Err(bench
        .error(work, "beaded-twice", message, &[first.member, bead.member])
        .help("name one part of the frame for each edge of the pane"))
}

/// The side is no face of the pane.
fn no_face(bench: &Bench<'_>, work: &Work, pane: usize, side: Side) -> Problem {
    let message = format!("the {} is no face of `{}`", side.name(), bench.name(pane));
    bench
        .error(work, "no-such-edge", message, &[pane])
        .help("write `side` with the side the rebate is open to")
}

/// The rebate is open to the other side.
fn shut(bench: &Bench<'_>, work: &Work, [pane, member]: [usize; 2], out: DVec3) -> Problem {
    let (open, side) = (side_of(-out).name(), side_of(out).name());
    let message = format!(
        "the rebate of `{}` for `{}` is open to the {open}: a bead at the {side} has nothing to lie in",
        bench.name(member),
        bench.name(pane)
    );
    bench.error(work, "not-in-a-rebate", message, &[pane, member]).help(format!("write `side: \"{open}\"`"))
}

/// Neither a rebate nor a face that the pane stands at.
fn no_rebate(bench: &Bench<'_>, work: &Work, [pane, member]: [usize; 2], gap: f64) -> Problem {
    let (glass, wood) = (bench.name(pane), bench.name(member));
    let message = if gap > 0.0 {
        format!("`{glass}` ends {} before `{wood}`: a bead would not hold it", bench.mm(gap))
    } else {
        format!("`{glass}` stands {} into `{wood}`, which has no rebate for it", bench.mm(-gap))
    };
    bench
        .error(work, "not-in-a-rebate", message, &[pane, member])
        .help("cut a `rebate` for it, or end it at the frame and ask for beads on both sides")
}

/// Nothing holds the pane on the other side.
fn unbacked(bench: &Bench<'_>, work: &Work, [pane, member]: [usize; 2], out: DVec3) -> Problem {
    let (side, other) = (side_of(out).name(), side_of(-out).name());
    let message = format!(
        "`{}` lies in no rebate of `{}`: beads at the {side} leave nothing that holds it at the {other}",
        bench.name(pane),
        bench.name(member)
    );
    bench
        .error(work, "not-in-a-rebate", message, &[pane, member])
        .help(format!("cut a `rebate` for it, or put beads on both sides: `side: [\"{other}\", \"{side}\"]`"))
}
