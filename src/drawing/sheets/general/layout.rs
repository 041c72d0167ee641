//! Where the views of a piece go on the sheet, and where its picture.

use kurbo::{Point, Rect, Vec2};

use super::sizes::{Measured, front, side};
use crate::drawing::kit::dimension::{Beside, Manner, place};
use crate::drawing::kit::opening::Opens;
use crate::drawing::kit::project::{ITEM_COLUMN, OnSheet, bounds, extent};
use crate::drawing::page::look::{Look, Room};
use crate::drawing::page::profile::Projection;
use crate::drawing::page::scale::Scale;
use crate::geometry::{DVec2, DVec3};
use crate::paper::Mark;
use crate::solid::Camera;

/// White between two views, mm, besides their dimension bands.
const GAP: f64 = 12.0;
/// White between the front and the side view, mm: their bands of sizes come between.
const APART: f64 = GAP + 6.0;
/// Least room for dimension bands above and at the left of the front view, mm.
const BANDS: f64 = 24.0;
/// Room for a single band, mm.
const BAND: f64 = 16.0;
/// How much larger than the views a picture alone under them may be.
const LARGER: f64 = 1.5;
/// Room kept under such a picture, mm: two notes of two lines.
const NOTES: f64 = 40.0;
/// Least share of the scale of the views at which a picture is worth drawing; at a
/// smaller scale of the views it gets more room (common practice, no source).
const LEAST_PICTURE: f64 = 0.39;
/// Less than this on paper nothing is seen to open, mm.
const OPENS: f64 = 0.5;
/// White beside what opens, round views and above and below a picture, mm.
const CLEAR: f64 = 3.0;
/// White round the title block, mm.
const ROUND_BLOCK: f64 = 5.0;
/// White round a picture inside its place, mm, both sides together.
const IN_PLACE: f64 = 4.0;
/// What stands above a picture at the right of the views takes a third of what is
/// left there, of at most this much, mm.
const MOST_ABOVE: f64 = 60.0;
/// That third.
const THIRDS: f64 = 3.0;
/// Share of what is left that stands above a picture under the views: nearer to them
/// than to the foot, where the notes go.
const ABOVE: f64 = 0.4;
/// Least height and width of a place for notes, mm.
const LEAST_FREE: (f64, f64) = (15.0, 60.0);
/// From the corner of the front view to the ink of its sizes, mm.
const EDGE: f64 = 2.0;
/// White between the outermost sizes over the front view and the plan over them, mm: a
/// size line keeps 6 from an outline, and half of its figures stand over it.
const UNDER_PLAN: f64 = 4.0;

/// Where everything goes.
pub(super) struct Layout {
    /// The scale of the views.
    pub(super) scale: Scale,
    /// The front view.
    pub(super) front: Rect,
    /// The side view.
    pub(super) side: Rect,
    /// The plan.
    pub(super) plan: Rect,
    /// Where the picture lies.
    pub(super) pictorial: OnSheet,
    /// The box round the picture.
    pub(super) picture: Rect,
    /// The height that numbers beside the picture may take.
    pub(super) beside: Rect,
    /// Where notes may go.
    pub(super) free: Option<Rect>,
}

/// How far what opens stands out of the piece, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Open {
    /// In front of it, in the plan.
    out: f64,
    /// In front of it, in the side view: drawers drawn out, flaps let down.
    drawn: f64,
    /// Behind it, in the side view: lids put up.
    behind: f64,
    /// Above it, in the side view.
    pub(super) above: f64,
    /// To the left and to the right of it, in the plan: doors that open wide.
    beside: (f64, f64),
}

impl Open {
    /// That of a piece between two corners.
    pub(super) fn of(moving: &[Opens], (low, high): (DVec3, DVec3)) -> Self {
        let most = |seen: &dyn Fn(&Opens) -> bool, past: &dyn Fn((DVec3, DVec3)) -> f64| {
            moving.iter().filter(|one| seen(one)).map(|one| past(one.reach())).fold(0.0, f64::max)
        };
        let aside = |one: &Opens| one.slides() || one.turns_about(DVec3::X);
        Self {
            out: most(&|one| !one.slides(), &|(l, _)| low.y - l.y),
            drawn: most(&aside, &|(l, _)| low.y - l.y),
            behind: most(&aside, &|(_, h)| h.y - high.y),
            above: most(&aside, &|(_, h)| h.z - high.z),
            beside: (most(&|_| true, &|(l, _)| low.x - l.x), most(&|_| true, &|(_, h)| h.x - high.x)),
        }
    }

    /// On paper.
    fn at(self, factor: f64) -> Self {
        let Self { out, drawn, behind, above, beside } = self;
        Self {
            out: out * factor,
            drawn: drawn * factor,
            behind: behind * factor,
            above: above * factor,
            beside: (beside.0 * factor, beside.1 * factor),
        }
    }
}

impl Open {
    /// The room round the front view and between it and the side view, with what opens.
    fn bands(self, bands: &Bands) -> (Vec2, f64) {
        // What opens wide stands beside the plan.
        let apart = |room: f64, open: f64| if open > OPENS { room.max(open + CLEAR) } else { room };
        // What is put up stands over the side view, whose size is then below it.
        let up = if self.above > 0.0 { bands.round.y.max(self.above + CLEAR) } else { bands.round.y };
        let round = Vec2::new(apart(bands.round.x, self.beside.0), up);
        (round, apart(bands.between, self.beside.1))
    }

    /// The side view with what opens, and the size below it of what is put up.
    fn beside_side(self, side: Rect, first: bool) -> Rect {
        let Self { drawn, behind, above, .. } = self;
        let (left, right) = if first { (behind, drawn) } else { (drawn, behind) };
        let foot = side.y1 + if above > 0.0 { BAND } else { 0.0 };
        Rect { x0: side.x0 - left, x1: side.x1 + right, y0: side.y0 - above, y1: foot }
    }
}

/// A piece by its corners, with how far what opens stands out of it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bulk {
    /// Least corner.
    pub(super) low: DVec3,
    /// Greatest corner.
    pub(super) high: DVec3,
    /// What opens.
    pub(super) open: Open,
}

/// Room that sizes take on paper, mm.
pub(super) struct Bands {
    /// At the left of the front view and above it: upright figures reach further out
    /// at the left than figures along their lines.
    round: Vec2,
    /// Between it and the side view: figures of a slender piece stand there.
    between: f64,
    /// How far the figure of the side view reaches past it.
    past: f64,
    /// How far the figure of a short size at the foot of the front view reaches below it.
    under: f64,
}

/// The room that sizes of a piece take at `scale`.
pub(super) fn bands(of: Measured<'_>, look: &Look, scale: Scale) -> Bands {
    let Measured { worked, piece, .. } = of;
    let Some((low, high)) = bounds(worked.parts.iter().filter(|p| p.piece == piece)) else {
        return Bands { round: Vec2::new(BANDS, BANDS), between: APART, past: 0.0, under: 0.0 };
    };
    let (a, b) = extent(Camera::FRONT, low, high);
    let on = OnSheet::at_corner(a, b, Point::ZERO, scale.factor);
    let rect = on.rect(a, b);
    let placed = place(rect, &front(of, on, rect, look), &Manner::of(look), &mut 1);
    let taken = placed.marks.iter().map(Mark::bounds).fold(rect, |all, b| all.union(b));
    // In third angle the plan stands over the sizes above the front view.
    let third = look.profile.projection() == Projection::Third;
    let over = if third { UNDER_PLAN } else { EDGE };
    // Both views may have arrows outside that point at one another.
    let beside = taken.x1 - rect.x1;
    let camera = if third { Camera::RIGHT } else { Camera::LEFT };
    let (a, b) = extent(camera, low, high);
    let on = OnSheet::at_corner(a, b, Point::ZERO, scale.factor);
    let deep = on.rect(a, b);
    let above = side(worked, piece, (camera, on, deep), Beside::Above, look);
    let reach = place(deep, &above, &Manner::of(look), &mut 1).bounds;
    // Both rows over the side view stand in the band over the front.
    let top = taken.y0.min(reach.y0);
    let round = Vec2::new(BANDS.max(EDGE - taken.x0), BANDS.max(over - top));
    let between = if beside > GAP { APART.max(beside + GAP) } else { APART };
    Bands { round, between, past: reach.x1 - deep.x1, under: taken.y1 - rect.y1 }
}

/// Sets the views out at `scale` with their sizes; `None` if they do not fit.
pub(super) fn arrange(look: &Look, scale: Scale, bulk: &Bulk, bands: &Bands) -> Option<Layout> {
    let views = Views::of(look, scale, bulk, bands);
    if !views.fit(bands) {
        return None;
    }
    let (a, b) = extent(Camera::isometric(), bulk.low, bulk.high);
    let (place, picture, factor) = views.picture(b - a)?;
    let free = views.free(place, picture);
    let pictorial = OnSheet::at_corner(a, b, picture.origin(), factor);
    let beside = Rect { y0: place.y0, y1: picture.y1, ..picture };
    let Views { front, side, plan, .. } = views;
    Some(Layout { scale, front, side, plan, pictorial, picture, beside, free })
}

/// The three views, mm on the sheet.
struct Views {
    scale: Scale,
    /// First angle: the plan below, the view from the left at the right.
    first: bool,
    room: Room,
    /// Where views may go.
    area: Rect,
    front: Rect,
    side: Rect,
    plan: Rect,
    /// The side view and the plan with what opens.
    wide: Rect,
    deep: Rect,
    /// Room round the front view for its sizes.
    bands: Vec2,
    /// Of all columns with their bands.
    width: f64,
    /// What the sizes of the side view take at its right.
    past: f64,
}

impl Views {
    /// Columns and rows of the three views with their bands.
    fn of(look: &Look, scale: Scale, bulk: &Bulk, bands: &Bands) -> Self {
        let room = look.room();
        let area = Rect::new(room.above().x0, room.above().y0, room.above().x1, room.beside().y1);
        let size = (bulk.high - bulk.low) * scale.factor;
        let first = look.profile.projection() == Projection::First;
        let open = bulk.open.at(scale.factor);
        let Open { out, drawn, behind, .. } = open;
        let past = bands.past;
        let (bands, between) = open.bands(bands);
        let width = bands.x + size.x + between + size.y + drawn + behind + past.max(0.0) + GAP;
        let front_top = if first { area.y0 + bands.y } else { area.y0 + BAND + size.y + out + bands.y };
        let front_left = area.x0 + bands.x;
        let front = Rect::new(front_left, front_top, front_left + size.x, front_top + size.z);
        // The front of the piece looks to the right in a view from the left, and to
        // the left in one from the right.
        let side_left = front.x1 + between + if first { behind } else { drawn };
        let side = Rect::new(side_left, front.y0, side_left + size.y, front.y1);
        let plan_top = if first { front.y1 + between } else { area.y0 + BAND };
        let plan = Rect::new(front.x0, plan_top, front.x1, plan_top + size.y);
        let wide = open.beside_side(side, first);
        let deep = Rect { y1: plan.y1 + out, ..plan };
        Self { scale, first, room, area, front, side, plan, wide, deep, bands, width, past: past.max(0.0) }
    }

    /// Whether they stand clear of the title block, and the figures that reach past the
    /// front and the side view inside the frame.
    fn fit(&self, bands: &Bands) -> bool {
        let block = self.room.block.inflate(ROUND_BLOCK, ROUND_BLOCK);
        let clear = [self.front, self.wide, self.deep].iter().all(|v| {
            let v = v.inflate(CLEAR, CLEAR);
            self.area.union(v) == self.area && v.intersect(block).is_zero_area()
        });
        clear && self.side.x1 + bands.past <= self.area.x1 && self.front.y1 + bands.under <= self.area.y1
    }

    /// Where a picture may go: at the right, in the corner, below.
    fn places(&self) -> [Rect; 3] {
        let (area, above) = (self.area, self.room.above());
        let right = Rect::new(area.x0 + self.width, area.y0, area.x1, above.y1);
        let corner_top = if self.first { self.wide.y1 + GAP } else { area.y0 };
        let corner_foot = if self.first { above.y1 } else { (self.front.y0 - self.bands.y).min(above.y1) };
        let corner = Rect::new(self.plan.x1 + GAP, corner_top, area.x1, corner_foot);
        let foot = [self.front, self.wide, self.deep].iter().map(|v| v.y1).fold(0.0, f64::max);
        [right, corner, Rect::new(area.x0, foot + GAP, area.x1, above.y1)]
    }

    /// The place of the picture, the box round it and its factor, where it is `flat`
    /// at full size. It is not to scale: as large as its place, but never larger than
    /// the views.
    fn picture(&self, flat: DVec2) -> Option<(Rect, Rect, f64)> {
        let [right, corner, below] = self.places();
        let scale = self.scale.factor;
        let wide_in = |rect: Rect| rect.width() - 2.0 * ITEM_COLUMN - IN_PLACE;
        let in_place = |rect: Rect| -> Option<f64> {
            let (w, h) = (wide_in(rect), rect.height() - IN_PLACE);
            let factor = scale.min(w / flat.x).min(h / flat.y);
            (factor > 0.0).then_some(factor)
        };
        let (rect, mut factor) = [right, corner, below]
            .into_iter()
            .filter(|r| r.width() > 0.0 && r.height() > 0.0)
            .filter_map(|r| in_place(r).map(|f| (r, f)))
            .max_by(|x, y| x.1.total_cmp(&y.1))?;
        if factor < scale * LEAST_PICTURE {
            return None;
        }
        // Alone under the views it may be larger than they are, with room for notes kept.
        if rect == below {
            let (w, h) = (wide_in(rect), rect.height() - NOTES);
            factor = factor.max((LARGER * scale).min(w / flat.x).min(h / flat.y));
        }
        let (w, h) = (flat.x * factor, flat.y * factor);
        let top = if rect == right {
            rect.y0 + (rect.height() - h).min(MOST_ABOVE) / THIRDS
        } else if rect == below {
            rect.y0 + (rect.height() - h).max(0.0) * ABOVE
        } else {
            rect.center().y - h / 2.0
        };
        let corner = Point::new(rect.center().x - w / 2.0, top);
        Some((rect, Rect::new(corner.x, corner.y, corner.x + w, corner.y + h), factor))
    }

    /// Where notes may go: under the views or under the picture, the taller.
    fn free(&self, place: Rect, picture: Rect) -> Option<Rect> {
        let under = Rect::new(place.x0, picture.y1 + GAP, place.x1, place.y1);
        let left = Rect::new(
            self.area.x0,
            self.deep.y1.max(self.front.y1) + GAP,
            (self.room.block.x0 - ROUND_BLOCK).min(picture.x0 - ITEM_COLUMN - CLEAR).max(self.area.x0),
            self.area.y1,
        );
        // With their sizes, the front and side views reach further up and left.
        let (front, bands) = (self.front, self.bands);
        let taken = [
            Rect { x0: front.x0 - bands.x, y0: front.y0 - bands.y, ..front },
            Rect { y0: self.wide.y0.min(self.side.y0 - bands.y), x1: self.wide.x1 + self.past, ..self.wide },
            self.deep,
            picture.inflate(ITEM_COLUMN, CLEAR),
        ];
        let clear = |f: &Rect| taken.iter().all(|t| t.intersect(*f).is_zero_area());
        let (tall, wide) = LEAST_FREE;
        [left, under]
            .into_iter()
            .filter(|f| f.height() > tall && f.width() > wide && clear(f))
            .max_by(|a, b| a.height().total_cmp(&b.height()))
    }
}
