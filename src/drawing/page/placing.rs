//! Where the bodies of a set go: each into the first white that takes it, and the sheets
//! that then carry little but lists given up where other sheets have white for them.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Rect, Vec2};

use super::cells::Cells;
use super::look::Look;
use super::sheet_body::{SheetBody, SheetKind};
use crate::paper::Role;

/// White kept round ink of a sheet that is drawn already, mm.
const ROUND: f64 = 6.0;
/// Share of both sides of the paper that a block takes which fills it.
const FULL: f64 = 0.9;

/// What is on a sheet.
#[derive(Clone)]
pub(super) struct Gathered {
    pub(super) members: Vec<Member>,
    /// The white left.
    cells: Cells,
}

/// A body on a sheet.
#[derive(Clone, Copy)]
pub(super) struct Member {
    /// Its place in the set.
    pub(super) body: usize,
    /// Which of its shapes: its own, then those narrower.
    pub(super) shape: usize,
    /// How far it is moved.
    pub(super) by: Vec2,
}

/// What a body takes on the paper, mm.
#[derive(Clone, Default)]
pub(super) struct Block {
    /// The box of all its ink.
    ink: Rect,
    /// The boxes of what is drawn, where it leaves white between that others may use: each
    /// view whole, since the white inside its outlines is no place for a table, and whatever
    /// stands by itself.
    drawn: Vec<Rect>,
}

impl Block {
    /// Those of a body in all its shapes.
    pub(super) fn shapes(body: &SheetBody) -> Vec<Self> {
        std::iter::once(body).chain(&body.narrower).map(Self::of).collect()
    }

    /// That of a body as it is.
    fn of(body: &SheetBody) -> Self {
        use SheetKind::{Assembly, Layout, Part};
        let open = body.opens || body.kind.is_spread() || matches!(body.kind, Part | Layout | Assembly);
        let mut block = Self::default();
        let mut views: Vec<(u16, Rect)> = Vec::new();
        for (i, mark) in body.marks.iter().enumerate() {
            let bounds = mark.bounds();
            block.ink = if i == 0 { bounds } else { block.ink.union(bounds) };
            if !open {
                continue;
            }
            let outline = matches!(mark.role, Role::Outline | Role::Pictorial);
            match (outline, views.iter_mut().find(|(view, _)| *view == mark.shows.view)) {
                (false, _) => block.drawn.push(bounds),
                (true, Some((_, all))) => *all = all.union(bounds),
                (true, None) => views.push((mark.shows.view, bounds)),
            }
        }
        block.drawn.extend(views.into_iter().map(|(_, all)| all));
        block
    }

    /// Takes all that is drawn, moved.
    fn mark(&self, cells: &mut Cells, by: Vec2) {
        for seen in &self.drawn {
            cells.mark((*seen + by).inflate(ROUND, ROUND));
        }
    }

    /// Puts it on the first place that takes it; gives how far it is moved. Beside a layout
    /// with its cuts, and beside the last step, is white that a list may use.
    fn put(&self, cells: &mut Cells) -> Option<Vec2> {
        if self.drawn.is_empty() {
            return Some(cells.take(self.ink)? - self.ink.origin());
        }
        let by = cells.find(self.ink)? - self.ink.origin();
        self.mark(cells, by);
        Some(by)
    }
}

/// The bodies of a set with what they take.
pub(super) struct Set<'a> {
    /// In the order of the set.
    pub(super) bodies: &'a [SheetBody],
    /// What each body takes in its own shape, then in those narrower.
    pub(super) shapes: &'a [Vec<Block>],
    /// The paper.
    pub(super) look: &'a Look,
}

/// Which sheets hold something of a title and kind, as far as they have been looked at.
#[derive(Default)]
struct Begun<'a> {
    of: BTreeMap<(&'a str, SheetKind), BTreeSet<usize>>,
    /// How many members of each sheet.
    seen: Vec<usize>,
}

impl<'a> Set<'a> {
    /// Which bodies share each sheet: as they come, or where that takes fewer sheets the lists
    /// after all else, the largest first.
    pub(super) fn sheets(&self) -> Vec<Gathered> {
        let in_order: Vec<usize> = (0..self.bodies.len()).collect();
        let as_they_come = self.gathered(&in_order, SheetBody::takes);
        let is_list = |i: &usize| self.bodies.get(*i).is_some_and(|body| body.kind.is_list());
        let (mut lists, mut order): (Vec<usize>, Vec<usize>) = in_order.into_iter().partition(is_list);
        let area = |i: &usize| {
            let block = self.shapes.get(*i).and_then(|shapes| shapes.first());
            block.map_or(0.0, |block| block.ink.area())
        };
        // The index and the notes come before all, as they stand; what runs on after its
        // beginning, however large.
        let runs_on = |i: &usize| self.bodies.get(*i).is_some_and(|body| body.runs_on);
        let notes = |i: &usize| self.bodies.get(*i).is_some_and(|body| body.kind == SheetKind::Notes);
        let size = |i: &usize| if notes(i) || runs_on(i) { f64::INFINITY } else { area(i) };
        lists.sort_by(|a, b| runs_on(a).cmp(&runs_on(b)).then(size(b).total_cmp(&size(a))).then(a.cmp(b)));
        order.append(&mut lists);
        let largest_first = self.gathered(&order, SheetBody::spares);
        if largest_first.len() < as_they_come.len() { largest_first } else { as_they_come }
    }

    /// Bodies put on sheets in some order by a rule; the sheets in the order of the set.
    fn gathered(&self, order: &[usize], lets: fn(&SheetBody, &SheetBody) -> bool) -> Vec<Gathered> {
        let mut sheets: Vec<Gathered> = Vec::new();
        let mut known = Begun::default();
        for i in order {
            let Some(body) = self.bodies.get(*i) else { continue };
            let stays = body.kind.stays() || body.opens;
            let from = self.begun(&sheets, &mut known, *i);
            let mut hosts = sheets.iter_mut().filter(|sheet| !stays && rank(sheet) >= from);
            if !hosts.any(|sheet| self.admit(sheet, *i, lets)) {
                sheets.push(self.fresh(*i));
            }
        }
        let mut sheets = self.fewer(sheets);
        sheets.sort_by_key(rank);
        for sheet in &mut sheets {
            sheet.members.sort_by_key(|member| member.body);
        }
        sheets
    }

    /// Where in the set the sheet stands that a body goes on from: what runs on never comes
    /// before its beginning.
    fn begun(&self, sheets: &[Gathered], known: &mut Begun<'a>, body: usize) -> usize {
        let Some(body) = self.bodies.get(body).filter(|body| body.runs_on) else { return 0 };
        known.seen.resize(sheets.len(), 0);
        for ((at, sheet), seen) in sheets.iter().enumerate().zip(&mut known.seen) {
            for member in sheet.members.iter().skip(*seen) {
                if let Some(other) = self.bodies.get(member.body) {
                    known.of.entry((other.title.as_str(), other.kind)).or_default().insert(at);
                }
            }
            *seen = sheet.members.len();
        }
        let begins = known.of.get(&(body.title.as_str(), body.kind));
        begins.into_iter().flatten().filter_map(|at| sheets.get(*at)).map(rank).max().unwrap_or(0)
    }

    /// What stands on a sheet.
    fn on<'s>(&'s self, sheet: &'s Gathered) -> impl Iterator<Item = &'s SheetBody> + 's {
        sheet.members.iter().filter_map(|member| self.bodies.get(member.body))
    }

    /// A sheet with one body.
    fn fresh(&self, index: usize) -> Gathered {
        let mut sheet = Gathered { members: Vec::new(), cells: Cells::of(self.look, false) };
        let Some((body, shapes)) = self.bodies.get(index).zip(self.shapes.get(index)) else { return sheet };
        if body.opens {
            sheet.cells = Cells::of(self.look, true);
        }
        let mut by = Vec2::ZERO;
        let Some(block) = shapes.first() else { return sheet };
        let ink = block.ink;
        // Views that stand as they project on one another leave white between them.
        if body.kind.stays() || body.opens || body.kind.is_spread() {
            block.mark(&mut sheet.cells, by);
        } else if let Some(moved) = block.put(&mut sheet.cells) {
            // What fills its sheet is spread over it already.
            let room = self.look.room().above();
            let full = ink.width() > FULL * room.width() && ink.height() > FULL * room.height();
            by = if full { Vec2::ZERO } else { moved };
        } else {
            sheet.cells.mark(ink);
        }
        sheet.members.push(Member { body: index, shape: 0, by });
        sheet
    }

    /// Puts a body on a sheet whose bodies all let it in by a rule, if that has white for it.
    fn admit(&self, sheet: &mut Gathered, index: usize, lets: fn(&SheetBody, &SheetBody) -> bool) -> bool {
        let Some((body, shapes)) = self.bodies.get(index).zip(self.shapes.get(index)) else { return false };
        if !self.on(sheet).all(|host| lets(host, body)) || !scales(self.on(sheet), body) {
            return false;
        }
        // A sheet stands where its first body does: what runs on would come too early with it.
        if index < rank(sheet) && self.on(sheet).any(|host| host.runs_on) {
            return false;
        }
        let found = shapes.iter().enumerate().find_map(|(shape, block)| {
            let by = block.put(&mut sheet.cells)?;
            Some(Member { body: index, shape, by })
        });
        sheet.members.extend(found);
        found.is_some()
    }

    /// The sheets without those that carry lists alone, where these have room on others.
    fn fewer(&self, mut sheets: Vec<Gathered>) -> Vec<Gathered> {
        let area = |sheet: &Gathered| {
            let shape = |m: &Member| self.shapes.get(m.body).and_then(|shapes| shapes.get(m.shape));
            sheet.members.iter().filter_map(shape).map(|block| block.ink.area()).sum::<f64>()
        };
        let mut order: Vec<(f64, usize)> = sheets.iter().map(area).zip(0..).collect();
        // What carries least is most easily given up.
        order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for (_, given_up) in order {
            if let Some(changed) = self.spread_over(&sheets, given_up) {
                for (at, sheet) in changed {
                    if let Some(known) = sheets.get_mut(at) {
                        *known = sheet;
                    }
                }
                if let Some(sheet) = sheets.get_mut(given_up) {
                    sheet.members.clear();
                }
            }
        }
        sheets.retain(|sheet| !sheet.members.is_empty());
        sheets
    }

    /// The sheets that take all that stands on one of lists; none where something stays.
    fn spread_over(&self, sheets: &[Gathered], given_up: usize) -> Option<BTreeMap<usize, Gathered>> {
        let sheet = sheets.get(given_up).filter(|sheet| self.on(sheet).all(|body| body.kind.is_list()))?;
        let mut changed: BTreeMap<usize, Gathered> = BTreeMap::new();
        for member in &sheet.members {
            let body = self.bodies.get(member.body)?;
            let goes_on =
                |other: &SheetBody| other.runs_on && other.title == body.title && other.kind == body.kind;
            if !body.runs_on && self.bodies.iter().any(goes_on) {
                return None;
            }
            let from = if body.runs_on { rank(sheet) } else { 0 };
            let shapes = self.shapes.get(member.body)?;
            let host = (0..sheets.len()).filter(|at| *at != given_up).find_map(|at| {
                let host = changed.get(&at).or_else(|| sheets.get(at)).filter(|host| rank(host) >= from)?;
                let white = |block: &Block| host.cells.may_hold(block.ink);
                if host.members.is_empty() || !shapes.iter().any(white) {
                    return None;
                }
                let mut host = host.clone();
                self.spare(&mut host, member.body).then_some((at, host))
            })?;
            changed.insert(host.0, host.1);
        }
        Some(changed)
    }

    /// Puts a body where a sheet has white to spare. Parts stand apart from one another over
    /// their sheet: where they have it to themselves they first move together to its top.
    fn spare(&self, host: &mut Gathered, index: usize) -> bool {
        if self.admit(host, index, SheetBody::spares) {
            return true;
        }
        let [only] = host.members.as_slice() else { return false };
        let (only, Some(body)) = (*only, self.bodies.get(only.body)) else { return false };
        let Some(block) = self.shapes.get(only.body).and_then(|shapes| shapes.first()) else { return false };
        if body.kind != SheetKind::Part {
            return false;
        }
        let corner = host.cells.area().origin() - block.ink.origin();
        [Vec2::new(0.0, corner.y), corner].into_iter().any(|by| {
            let mut moved =
                Gathered { members: vec![Member { by, ..only }], cells: Cells::of(self.look, false) };
            block.mark(&mut moved.cells, by);
            let fits = self.admit(&mut moved, index, SheetBody::spares);
            if fits {
                *host = moved;
            }
            fits
        })
    }
}

/// Where a sheet stands in the set: its first body.
fn rank(sheet: &Gathered) -> usize {
    sheet.members.iter().map(|member| member.body).min().unwrap_or(usize::MAX)
}

/// Whether a body may stand beside some others for its scale: one that is printed nowhere
/// but in the title block has to be that of all.
fn scales<'a>(mut hosts: impl Iterator<Item = &'a SheetBody>, body: &SheetBody) -> bool {
    let own = |body: &SheetBody| if body.kind.prints_scales() { None } else { body.scale };
    own(body).is_none_or(|scale| hosts.all(|host| own(host).is_none_or(|other| other == scale)))
}
