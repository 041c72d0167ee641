//! One sheet as a tree of strips, made so that every state is a guillotine
//! layout: a strip is divided along one axis into pieces that each take its
//! full width, the rest of it being slack at the end.
//!
//! Nodes live in an arena of the panel, so that a step of the search is undone
//! by copying the panels it touched. Links are places in that arena; they are
//! made only by `attach` and unmade only by `detach`, so indexing with them
//! cannot fail.

use super::model::Axis;
use super::seeded::Seeded;
use super::shop::{Block, area};

/// No node.
pub(super) const NONE: u32 = u32::MAX;

/// What a node is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Not in use.
    Free,
    /// A sheet without any cut; only the root.
    Empty,
    /// A block lies here and fills the node.
    Block {
        /// Its place in the shop.
        block: u32,
        /// Whether it lies turned a quarter.
        turned: bool,
    },
    /// Divided along `axis`, `slack` of its length being left over.
    Strip {
        /// The direction in which its pieces follow one another.
        axis: Axis,
        /// Length left over at the end.
        slack: i32,
    },
}

/// A rectangle of the sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Node {
    /// Size with the kerf.
    pub(super) size: [i32; 2],
    /// What it is.
    pub(super) kind: Kind,
    /// The strip it is a piece of.
    pub(super) parent: u32,
    /// Its first piece.
    pub(super) first: u32,
    /// The piece after it in the same strip.
    pub(super) next: u32,
    /// The piece before it in the same strip.
    prev: u32,
    /// The rest of it that was last listed, and what that is worth: most rests of a sheet are
    /// those it had before.
    known: ([i32; 2], f64),
}

/// A rectangle left over.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rest {
    /// Size with the kerf.
    pub(super) size: [i32; 2],
    /// What it is worth as it is.
    worth: f64,
    /// The strip whose end it is, or the empty sheet.
    node: u32,
    /// The direction that strip is, or would be, divided in.
    axis: Axis,
    /// Levels of cuts above a piece put here at full width.
    level: u8,
    /// Whether it is an empty sheet, which stands in the list twice.
    whole: bool,
}

/// Where and how a block can be put.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    /// How much value of rest is lost; least is best.
    pub(super) loss: f64,
    /// Which rest.
    rest: u32,
    /// Whether the block lies turned.
    turned: bool,
    /// Whether the rest is first cut along its strip, not across it.
    lengthwise: bool,
}

/// One sheet of the plan.
#[derive(Clone, Debug)]
pub(super) struct Panel {
    /// The kind of sheet.
    pub(super) kind: usize,
    /// Whether the sheet is in the plan.
    pub(super) open: bool,
    /// Stands for this exact content; a copy taken back has its old number.
    pub(super) version: u64,
    /// The arena; node 0 is the sheet.
    pub(super) nodes: Vec<Node>,
    /// Arena places to use again.
    free: Vec<u32>,
    /// What is left over.
    pub(super) rests: Vec<Rest>,
    /// Value of what is left over: the larger the pieces, the more.
    pub(super) value: f64,
    /// Area left over.
    pub(super) waste: i64,
    /// The longest side of what is left over, each way: what is longer finds no place.
    pub(super) reach: [i32; 2],
}

/// A rest is worth its area to the power 9/8, so that one large rest is worth
/// more than two halves. Square roots round alike on all machines.
fn worth(width: i32, height: i32) -> f64 {
    let area = f64::from(width) * f64::from(height);
    area * area.sqrt().sqrt().sqrt()
}

/// The [`worth`] of several at once, to the bit the same: the roots of two run side by
/// side in the processor, and they are most of what the search reckons.
fn worths<const N: usize>(sizes: [[i32; 2]; N]) -> [f64; N] {
    let areas = sizes.map(|[width, height]| f64::from(width) * f64::from(height));
    let mut roots = areas;
    for _ in 0..3 {
        roots = roots.map(f64::sqrt);
    }
    let mut worths = areas;
    for (worth, root) in worths.iter_mut().zip(roots) {
        *worth *= root;
    }
    worths
}

impl Panel {
    /// An uncut sheet.
    pub(super) fn new(kind: usize, size: [i32; 2]) -> Self {
        let root = Node {
            size,
            kind: Kind::Empty,
            parent: NONE,
            first: NONE,
            next: NONE,
            prev: NONE,
            known: ([0; 2], 0.0),
        };
        let mut panel = Self {
            kind,
            open: true,
            version: 0,
            nodes: vec![root],
            free: Vec::new(),
            rests: Vec::new(),
            value: 0.0,
            waste: 0,
            reach: [0; 2],
        };
        panel.refresh(u8::MAX);
        panel
    }

    /// Makes this a copy of another, keeping its buffers.
    pub(super) fn copy_from(&mut self, other: &Self) {
        self.kind = other.kind;
        self.open = other.open;
        self.version = other.version;
        self.nodes.clone_from(&other.nodes);
        self.free.clone_from(&other.free);
        self.rests.clone_from(&other.rests);
        self.value = other.value;
        self.waste = other.waste;
        self.reach = other.reach;
    }

    /// The node at a link.
    pub(super) fn node(&self, link: u32) -> &Node {
        &self.nodes[link as usize]
    }

    fn node_mut(&mut self, link: u32) -> &mut Node {
        &mut self.nodes[link as usize]
    }

    /// Whether nothing lies on the sheet.
    pub(super) fn is_empty(&self) -> bool {
        self.nodes[0].kind == Kind::Empty
    }

    /// Lists again what is left over, after a change.
    pub(super) fn refresh(&mut self, levels: u8) {
        self.rests.clear();
        self.value = 0.0;
        self.waste = 0;
        self.reach = [0; 2];
        let mut link = 0;
        let mut level: u8 = 0;
        loop {
            let node = self.nodes[link as usize];
            self.note_rest(link, &node, level, levels);
            if node.first != NONE {
                level = level.saturating_add(1);
                link = node.first;
                continue;
            }
            while link != 0 && self.node(link).next == NONE {
                link = self.node(link).parent;
                level = level.saturating_sub(1);
            }
            if link == 0 {
                break;
            }
            link = self.node(link).next;
        }
    }

    /// Lists the rest of one node that has `level` strips above it.
    fn note_rest(&mut self, link: u32, node: &Node, level: u8, levels: u8) {
        let (size, axes, whole): (_, &[Axis], _) = match node.kind {
            Kind::Empty => (node.size, &[Axis::X, Axis::Y], true),
            Kind::Strip { axis, slack } if slack > 0 => {
                let mut size = node.size;
                size[axis.index()] = slack;
                (size, if axis == Axis::X { &[Axis::X] } else { &[Axis::Y] }, false)
            }
            _ => return,
        };
        if node.known.0 != size {
            self.node_mut(link).known = (size, worth(size[0], size[1]));
        }
        let worth = self.node(link).known.1;
        self.value += worth;
        self.waste += area(size);
        let level = if whole { 1 } else { level.saturating_add(1) };
        if level > levels && !whole {
            return;
        }
        self.reach = [self.reach[0].max(size[0]), self.reach[1].max(size[1])];
        for &axis in axes {
            self.rests.push(Rest { size, worth, node: link, axis, level, whole });
        }
    }

    /// How many places there are for a block, and the best of them.
    pub(super) fn best_place(&self, block: &Block, levels: u8) -> (u32, Option<Place>) {
        let mut count = 0;
        let mut best: Option<Place> = None;
        self.each_place(block, levels, |place| {
            count += 1;
            if best.is_none_or(|best| place.loss < best.loss) {
                best = Some(place);
            }
        });
        (count, best)
    }

    /// One of the places for a block, drawn at random.
    pub(super) fn any_place(&self, block: &Block, levels: u8, random: &mut Seeded) -> Option<Place> {
        let mut seen = 0;
        let mut drawn = None;
        self.each_place(block, levels, |place| {
            seen += 1;
            if random.below(seen) == 0 {
                drawn = Some(place);
            }
        });
        drawn
    }

    /// Tells every place for a block.
    fn each_place(&self, block: &Block, levels: u8, mut tell: impl FnMut(Place)) {
        for turned in [false, true] {
            if turned && !block.may_turn {
                break;
            }
            let size = block.lying(turned);
            for (index, rest) in (0..).zip(&self.rests) {
                if size[0] > rest.size[0] || size[1] > rest.size[1] {
                    continue;
                }
                rest.each_way(size, |lengthwise, strip, level, loss| {
                    if level.saturating_add(block.extra_levels(turned, strip)) <= levels {
                        tell(Place { loss, rest: index, turned, lengthwise });
                    }
                });
            }
        }
    }

    /// Puts a block where `best_place` said.
    pub(super) fn put(&mut self, block_index: u32, block: &Block, place: Place) {
        let rest = self.rests[place.rest as usize];
        let size = block.lying(place.turned);
        let kind = Kind::Block { block: block_index, turned: place.turned };
        let (along, across) = (rest.axis.index(), rest.axis.other().index());
        if rest.whole {
            if size == rest.size {
                self.node_mut(0).kind = kind;
                return;
            }
            let slack = rest.size[along];
            self.node_mut(0).kind = Kind::Strip { axis: rest.axis, slack };
        }
        // The piece of the strip that holds the block, at its full width.
        let mut outer = rest.size;
        if !place.lengthwise {
            outer[along] = size[along];
        }
        let mut under = self.attach(rest.node, outer, kind);
        if place.lengthwise {
            let slack = outer[across];
            self.node_mut(under).kind = Kind::Strip { axis: rest.axis.other(), slack };
            let mut inner = outer;
            inner[across] = size[across];
            under = self.attach(under, inner, kind);
            if inner[along] > size[along] {
                self.node_mut(under).kind = Kind::Strip { axis: rest.axis, slack: inner[along] };
                self.attach(under, size, kind);
            }
        } else if outer[across] > size[across] {
            let slack = outer[across];
            self.node_mut(under).kind = Kind::Strip { axis: rest.axis.other(), slack };
            self.attach(under, size, kind);
        }
    }

    /// Adds a piece to a strip, taking its length off the slack.
    fn attach(&mut self, parent: u32, size: [i32; 2], kind: Kind) -> u32 {
        let first = self.node(parent).first;
        let node = Node { size, kind, parent, first: NONE, next: first, prev: NONE, known: ([0; 2], 0.0) };
        let link = if let Some(link) = self.free.pop() {
            self.nodes[link as usize] = node;
            link
        } else {
            self.nodes.push(node);
            u32::try_from(self.nodes.len() - 1).unwrap_or(NONE)
        };
        if first != NONE {
            self.node_mut(first).prev = link;
        }
        self.node_mut(parent).first = link;
        self.give(parent, |axis| -size[axis.index()]);
        link
    }

    /// Changes the slack of a strip.
    fn give(&mut self, strip: u32, length: impl Fn(Axis) -> i32) {
        if let Kind::Strip { axis, slack } = &mut self.node_mut(strip).kind {
            *slack += length(*axis);
        }
    }

    /// Takes a piece out of its strip without giving its length back.
    fn unlink(&mut self, link: u32) {
        let Node { parent, next, prev, .. } = *self.node(link);
        if prev == NONE {
            self.node_mut(parent).first = next;
        } else {
            self.node_mut(prev).next = next;
        }
        if next != NONE {
            self.node_mut(next).prev = prev;
        }
    }

    /// Frees a node and all under it, listing the blocks that lay there.
    fn discard(&mut self, link: u32, out: &mut Vec<u32>) {
        if let Kind::Block { block, .. } = self.node(link).kind {
            out.push(block);
        }
        let mut child = self.node(link).first;
        while child != NONE {
            let next = self.node(child).next;
            self.discard(child, out);
            child = next;
        }
        self.node_mut(link).kind = Kind::Free;
        self.node_mut(link).first = NONE;
        if link != 0 {
            self.free.push(link);
        }
    }

    /// Empties the sheet, listing the blocks that lay there.
    pub(super) fn clear(&mut self, out: &mut Vec<u32>) {
        self.discard(0, out);
        self.nodes.truncate(1);
        self.free.clear();
        self.nodes[0].kind = Kind::Empty;
    }

    /// Takes out a node with all under it, lists the blocks that lay there,
    /// and closes strips that no longer hold anything.
    pub(super) fn take(&mut self, link: u32, out: &mut Vec<u32>) {
        let mut link = link;
        loop {
            if link == 0 {
                self.clear(out);
                return;
            }
            let Node { parent, size, .. } = *self.node(link);
            self.unlink(link);
            self.discard(link, out);
            self.give(parent, |axis| size[axis.index()]);
            if self.node(parent).first != NONE {
                self.tighten_up(parent);
                return;
            }
            link = parent;
        }
    }

    /// Narrows the strip, and those it lies in, where all pieces leave room.
    fn tighten_up(&mut self, from: u32) {
        let mut link = from;
        while link != 0 {
            let parent = self.node(link).parent;
            self.tighten(link);
            link = parent;
        }
    }

    /// Narrows one strip by what the narrowest slack of its pieces allows.
    fn tighten(&mut self, strip: u32) {
        let mut room = i32::MAX;
        let mut child = self.node(strip).first;
        if child == NONE {
            return;
        }
        while child != NONE {
            let Kind::Strip { slack, .. } = self.node(child).kind else {
                return;
            };
            room = room.min(slack);
            child = self.node(child).next;
        }
        if room == 0 {
            return;
        }
        let Kind::Strip { axis, .. } = self.node(strip).kind else {
            return;
        };
        let across = axis.other().index();
        self.node_mut(strip).size[across] -= room;
        let parent = self.node(strip).parent;
        self.give(parent, |_| room);
        let mut child = self.node(strip).first;
        while child != NONE {
            let next = self.node(child).next;
            self.node_mut(child).size[across] -= room;
            self.give(child, |_| -room);
            self.unwrap_single(strip, child);
            child = next;
        }
        // A strip that is now just one piece, and as long, is that piece.
        self.unwrap_single(parent, strip);
    }

    /// Puts the only piece of a full strip in that strip's place.
    fn unwrap_single(&mut self, parent: u32, strip: u32) {
        let Node { kind, first, .. } = *self.node(strip);
        let single = first != NONE && self.node(first).next == NONE;
        if !single || !matches!(kind, Kind::Strip { slack: 0, .. }) {
            return;
        }
        let only = *self.node(first);
        self.unlink(strip);
        self.give(parent, |axis| only.size[axis.index()]);
        if matches!(only.kind, Kind::Block { .. }) {
            self.attach(parent, only.size, only.kind);
        } else {
            // Strips alternate, so these pieces run as the parent's do.
            let mut child = only.first;
            while child != NONE {
                let next = self.node(child).next;
                self.adopt(parent, child);
                child = next;
            }
        }
        for link in [strip, first] {
            self.node_mut(link).kind = Kind::Free;
            self.node_mut(link).first = NONE;
            self.free.push(link);
        }
    }

    /// Hangs an existing node under another strip.
    fn adopt(&mut self, parent: u32, child: u32) {
        let first = self.node(parent).first;
        let size = self.node(child).size;
        let node = self.node_mut(child);
        node.parent = parent;
        node.prev = NONE;
        node.next = first;
        if first != NONE {
            self.node_mut(first).prev = child;
        }
        self.node_mut(parent).first = child;
        self.give(parent, |axis| -size[axis.index()]);
    }

    /// The largest rest with both sides longer than `least`, as an area.
    pub(super) fn largest_rest(&self, least: i32) -> i64 {
        let useful = |rest: &&Rest| rest.size[0].min(rest.size[1]) >= least;
        self.rests.iter().filter(useful).map(|rest| area(rest.size)).max().unwrap_or(0)
    }
}

impl Rest {
    /// Tells each way of cutting a block of this size from the rest: whether
    /// lengthwise first, the axis of the strip it then lies in, the levels
    /// above it, and the value lost.
    fn each_way(&self, size: [i32; 2], mut tell: impl FnMut(bool, Option<Axis>, u8, f64)) {
        let (along, across) = (self.axis.index(), self.axis.other().index());
        let room = [self.size[along], self.size[across]];
        let need = [size[along], size[across]];
        let full = need[1] == room[1];
        if self.whole && full && need[0] == room[0] {
            tell(false, None, 0, self.worth);
            return;
        }
        if self.whole && !full && need[0] == room[0] {
            // The same sheet divided along the other axis needs a level less.
            return;
        }
        let left = [room[0] - need[0], room[1] - need[1]];
        let across_first = [[left[0], room[1]], [need[0], left[1]]];
        let (strip, level) =
            if full { (self.axis, self.level) } else { (self.axis.other(), self.level.saturating_add(1)) };
        if self.whole || full || need[0] == room[0] {
            let [beyond, beside] = worths(across_first);
            tell(false, Some(strip), level, self.worth - beyond - beside);
            return;
        }
        let [first, second] = across_first;
        let [beyond, beside, whole_beside, short_beyond] =
            worths([first, second, [room[0], left[1]], [left[0], need[1]]]);
        tell(false, Some(strip), level, self.worth - beyond - beside);
        tell(true, Some(self.axis), self.level.saturating_add(2), self.worth - whole_beside - short_beyond);
    }
}
