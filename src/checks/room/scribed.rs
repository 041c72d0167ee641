//! Edges that are left wide to be scribed to the wall: whether as much is left as the wall
//! asks for.

use super::wall::SEEN;
use crate::checks::measuring::TOUCH;
use crate::geometry::DVec3;
use crate::joinery::{OnWall, WorkedJob, WorkedPart, on_wall, too_wide_to_set};
use crate::measure::{INCH, LengthStyle, Unit, in_script};
use crate::model::{Job, Scribe, Side, Site};
use crate::problem::{Problem, wording};

/// What is wrong with each edge that is scribed.
pub(super) fn check(job: &Job, worked: &WorkedJob) -> Vec<Problem> {
    let stands = on_wall(job, worked);
    let of_scribe = |scribe: &Scribe| {
        let part = worked.parts.get(scribe.part.0)?;
        let place = stands.iter().find(|place| place.piece == part.piece);
        Asked { job, part, scribe }.wrong(place)
    };
    let mut found: Vec<Problem> = job.scribes.iter().filter_map(of_scribe).collect();
    found.extend(stands.iter().filter_map(|place| set_later(job, worked, place)));
    found
}

/// Advice on a piece that does not go between its walls as long as the strips to be scribed
/// are left on it, and whose scribed parts cannot come last.
fn set_later(job: &Job, worked: &WorkedJob, place: &OnWall) -> Option<Problem> {
    let (site, piece) = (job.site.as_ref()?, job.pieces.get(place.piece.0)?);
    let found = too_wide_to_set(job, worked, place)?;
    let first = job.scribes.iter().find(|one| found.parts.contains(&one.part.0))?;
    let show = |mm: f64| LengthStyle::of(job.unit).text((mm * 10.0).round() / 10.0);
    let parts = found.parts.iter().filter_map(|part| worked.parts.get(*part));
    let message = format!(
        "`{}` is {} wide with what is left on {} to scribe, and goes between walls {} apart",
        piece.name,
        show(found.wide),
        wording::all_of(parts.map(|part| part.name.as_str())),
        show(found.room)
    );
    let problem =
        Problem::advice("too-wide-to-set", message).at(first.origin).place(site.origin.user, "said here");
    Some(problem.help(
        "take the shape of the walls with a board held to them and scribe before it is set; or join a strip by screws \
         or a glued `butt` alone: such a strip is scribed and fixed on site, last",
    ))
}

/// An edge that the script asks to scribe.
struct Asked<'a> {
    job: &'a Job,
    part: &'a WorkedPart,
    scribe: &'a Scribe,
}

impl Asked<'_> {
    fn show(&self, mm: f64) -> String {
        LengthStyle::of(self.job.unit).text((mm * 10.0).round() / 10.0)
    }

    /// What is wrong, if anything.
    fn wrong(&self, place: Option<&OnWall>) -> Option<Problem> {
        let Self { part, scribe, .. } = self;
        let toward = scribe.side.normal();
        let name = &part.name;
        let at = |problem: Problem| problem.at(scribe.origin).part(name.clone());
        if part.at.z.dot(toward).abs() > ON_FACE {
            let message =
                format!("the {} of `{name}` is a face: an edge or end is scribed", scribe.side.name());
            let problem = Problem::error("no-such-edge", message);
            return Some(at(problem.help("name the side of the piece that its edge or end looks to")));
        }
        if let [low, .., high] = scribe.gap.as_slice() {
            let (low, high) = scribe.gap.iter().fold((*low, *high), |(l, h), mm| (l.min(*mm), h.max(*mm)));
            return self.against_gap(low, high).map(at);
        }
        let (site, place) = self.job.site.as_ref().zip(place)?;
        let needs = self.needs(site, place)?;
        if scribe.allow >= needs - TOUCH {
            return None;
        }
        let message = format!(
            "{} is left on the {} of `{name}` to scribe, and `{}` is out of true by {} there",
            self.show(scribe.allow),
            scribe.side.name(),
            site.name,
            self.show(needs - SEEN)
        );
        let help = format!("leave {}: `allow: {}`", self.show(self.up(needs)), self.written(needs));
        Some(at(Problem::warning("scribe-too-little", message)
            .place(site.origin.user, "said here")
            .help(help)))
    }

    /// The next length up that is easily measured, mm: whole millimetres, or eighths.
    fn up(&self, mm: f64) -> f64 {
        let step = if self.job.unit == Unit::Inch { INCH / 8.0 } else { 1.0 };
        (mm / step).ceil() * step
    }

    /// The same as the script has it.
    fn written(&self, mm: f64) -> String {
        in_script(self.job.unit, self.up(mm))
    }

    /// How wide it is drawn across the gap, mm.
    fn wide(&self) -> f64 {
        let axis = self.part.at.local_dir(self.scribe.side.normal()).abs();
        axis.dot(self.part.size)
    }

    /// A part that fills a gap as it was measured, mm.
    fn against_gap(&self, low: f64, high: f64) -> Option<Problem> {
        let (wide, name) = (self.wide(), &self.part.name);
        let allow = self.scribe.allow;
        let told = if high - low < TOUCH {
            self.show(low)
        } else {
            format!("{} to {}", self.show(low), self.show(high))
        };
        if wide > high + TOUCH {
            let message =
                format!("`{name}` is drawn {} wide, and the gap is told to be {told}", self.show(wide));
            let help = format!(
                "draw it {} wide and leave {} to scribe: `allow: {}`",
                self.show(low),
                self.show(self.up(high - low + SEEN)),
                self.written(high - low + SEEN)
            );
            return Some(Problem::error("filler-too-wide", message).help(help));
        }
        if wide + allow < high - TOUCH {
            let message = format!(
                "`{name}` is cut {} wide with what is left on it, and the gap is told to be {told}",
                self.show(wide + allow)
            );
            let needs = high - wide + SEEN;
            let help =
                format!("leave {} to scribe: `allow: {}`", self.show(self.up(needs)), self.written(needs));
            return Some(Problem::warning("filler-too-narrow", message).help(help));
        }
        None
    }

    /// What the wall asks for along the edge, mm; `None` where it is not told of.
    fn needs(&self, site: &Site, place: &OnWall) -> Option<f64> {
        let points: Vec<DVec3> =
            self.part.solid.points.iter().map(|p| self.part.at.point(*p) + place.shift).collect();
        let reach = |along: DVec3| {
            points
                .iter()
                .map(|p| along.dot(*p))
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), at| (l.min(at), h.max(at)))
        };
        let (low, high) = reach(DVec3::Z);
        let out = match self.scribe.side {
            Side::Left | Side::Right => {
                let middle = (0.5 * site.height).clamp(low, high);
                let widths = [low, middle, high].map(|at| site.width_at(at));
                widths.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b))
                    - widths.iter().fold(f64::INFINITY, |a, b| a.min(*b))
            }
            Side::Back => site.truth.lean.abs() * (high - low) / site.height,
            Side::Top => {
                let (left, right) = reach(DVec3::X);
                (site.ceiling_at(left) - site.ceiling_at(right)).abs()
            }
            _ => return None,
        };
        (out > TOUCH).then_some(out + SEEN)
    }
}

/// Cosine over which a side looks along the thickness of a part.
const ON_FACE: f64 = 0.7;
