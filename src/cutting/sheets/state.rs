//! A plan in the making: sheets, and the blocks that have no place yet.

use super::panel::{Panel, Place};
use super::seeded::Seeded;
use super::shop::Shop;

/// What the best place of a block on one sheet was, as long as the sheet has
/// not changed.
#[derive(Clone, Copy, Debug)]
struct Remembered {
    version: u64,
    count: u32,
    best: Option<Place>,
}

/// How blocks are ordered when they are put in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// Always the block with the fewest places next.
    FewestPlaces,
    /// Largest area first.
    Area,
    /// Longest side first.
    LongSide,
    /// Longest short side first.
    ShortSide,
}

/// A plan in the making.
#[derive(Clone, Debug)]
pub(super) struct State<'a> {
    pub(super) shop: &'a Shop,
    pub(super) panels: Vec<Panel>,
    /// Blocks without a place, as places in the shop.
    pub(super) out: Vec<u32>,
    /// What the open sheets cost.
    pub(super) cost: i64,
    /// The sheets may not cost more than this together.
    pub(super) limit: i64,
    /// Sheets of each kind not yet used.
    stock: Vec<usize>,
    clock: u64,
    memory: Vec<Vec<Remembered>>,
    /// The reach of every sheet, nothing where it is not in the plan: beside one another, as
    /// they are asked far more often than anything else of a sheet.
    reaches: Vec<[i32; 2]>,
    saved: Vec<(usize, Panel)>,
    spare: Vec<Panel>,
    saved_out: Vec<u32>,
}

impl<'a> State<'a> {
    /// No sheets yet, everything without a place.
    pub(super) fn new(shop: &'a Shop) -> Self {
        let out = (0..).zip(&shop.blocks).flat_map(|(index, block)| vec![index; block.count()]);
        Self {
            shop,
            panels: Vec::new(),
            out: out.collect(),
            cost: 0,
            limit: i64::MAX,
            stock: shop.kinds.iter().map(|kind| kind.count).collect(),
            clock: 1,
            memory: vec![Vec::new(); shop.blocks.len()],
            reaches: Vec::new(),
            saved: Vec::new(),
            spare: Vec::new(),
            saved_out: Vec::new(),
        }
    }

    /// Blocks left out weigh their area to the power 1.3.
    pub(super) fn left_out(&self) -> f64 {
        self.out.iter().map(|&block| self.shop.blocks[block as usize].weight).sum()
    }

    /// The value of all that is left over on the open sheets.
    pub(super) fn value(&self) -> f64 {
        self.panels.iter().filter(|panel| panel.open).map(|panel| panel.value).sum()
    }

    /// Starts a step that can be undone.
    pub(super) fn begin(&mut self) {
        self.spare.extend(self.saved.drain(..).map(|(_, panel)| panel));
        self.saved_out.clone_from(&self.out);
    }

    /// Undoes everything since `begin`.
    pub(super) fn undo(&mut self) {
        // What is open now goes back first: sheets may have changed kinds among them, and
        // a count must not fall below nought on the way.
        for (index, _) in &self.saved {
            let now = &self.panels[*index];
            if now.open {
                self.cost -= self.shop.kinds[now.kind].cost;
                self.stock[now.kind] += 1;
            }
        }
        while let Some((index, mut panel)) = self.saved.pop() {
            if panel.open {
                self.cost += self.shop.kinds[panel.kind].cost;
                self.stock[panel.kind] -= 1;
            }
            std::mem::swap(&mut self.panels[index], &mut panel);
            self.spare.push(panel);
            self.note_reach(index);
        }
        self.out.clone_from(&self.saved_out);
    }

    /// Keeps a copy of a sheet before its first change in a step.
    fn save(&mut self, index: usize) {
        if self.saved.iter().any(|(saved, _)| *saved == index) {
            return;
        }
        let panel = &self.panels[index];
        let copy = match self.spare.pop() {
            Some(mut copy) => {
                copy.copy_from(panel);
                copy
            }
            None => panel.clone(),
        };
        self.saved.push((index, copy));
    }

    /// Gives a changed sheet a new number and lists its rests.
    fn changed(&mut self, index: usize) {
        self.clock += 1;
        self.panels[index].version = self.clock;
        self.panels[index].refresh(self.shop.levels);
        self.note_reach(index);
    }

    /// Notes the reach of a sheet as it is now.
    fn note_reach(&mut self, index: usize) {
        if self.reaches.len() <= index {
            self.reaches.resize(index + 1, [0; 2]);
        }
        let panel = &self.panels[index];
        self.reaches[index] = if panel.open { panel.reach } else { [0; 2] };
    }

    /// Takes a node, with all under it, out of a sheet.
    pub(super) fn take(&mut self, index: usize, link: u32) {
        self.save(index);
        self.panels[index].take(link, &mut self.out);
        self.changed(index);
    }

    /// Empties a sheet.
    pub(super) fn clear(&mut self, index: usize) {
        self.save(index);
        self.panels[index].clear(&mut self.out);
        self.changed(index);
    }

    /// Takes a sheet out of the plan.
    pub(super) fn close(&mut self, index: usize) {
        if !self.panels[index].open {
            return;
        }
        self.clear(index);
        let panel = &mut self.panels[index];
        panel.open = false;
        panel.rests.clear();
        self.cost -= self.shop.kinds[panel.kind].cost;
        self.stock[panel.kind] += 1;
        self.note_reach(index);
    }

    /// Whether one more sheet of the kind is on hand and within the limit.
    pub(super) fn can_open(&self, kind: usize) -> bool {
        self.stock[kind] > 0 && self.shop.kinds[kind].cost <= self.limit.saturating_sub(self.cost)
    }

    /// Takes one more sheet into the plan.
    pub(super) fn open(&mut self, kind: usize) {
        let size = self.shop.kinds[kind].size;
        let index = self.panels.iter().position(|panel| !panel.open);
        let index = index.unwrap_or_else(|| {
            let mut panel = Panel::new(kind, size);
            panel.open = false;
            panel.rests.clear();
            self.panels.push(panel);
            self.panels.len() - 1
        });
        self.save(index);
        let panel = &mut self.panels[index];
        panel.kind = kind;
        panel.open = true;
        panel.nodes[0].size = size;
        self.cost += self.shop.kinds[kind].cost;
        self.stock[kind] -= 1;
        self.changed(index);
    }

    /// The places for a block on one sheet, remembered while it is unchanged.
    fn look(&mut self, block: u32, index: usize) -> &Remembered {
        let panel = &self.panels[index];
        let row = &mut self.memory[block as usize];
        if row.len() <= index {
            row.resize(index + 1, Remembered { version: 0, count: 0, best: None });
        }
        let known = &mut row[index];
        if known.version != panel.version {
            let (count, best) = panel.best_place(&self.shop.blocks[block as usize], self.shop.levels);
            *known = Remembered { version: panel.version, count, best };
        }
        known
    }

    /// How many places a block has on all sheets, and the best; sheets are
    /// overlooked with the given chance in a hundred.
    fn survey(&mut self, block: u32, blink: usize, random: &mut Seeded) -> (u32, Option<(usize, Place)>) {
        let mut total = 0;
        let mut best: Option<(usize, Place)> = None;
        let shop = self.shop;
        let shape = &shop.blocks[block as usize];
        for index in 0..self.reaches.len() {
            if !shape.lies_within(self.reaches[index]) {
                continue;
            }
            let Remembered { count, best: found, .. } = *self.look(block, index);
            total += count;
            if let Some(place) = found
                && best.is_none_or(|(_, best)| place.loss < best.loss)
                && !(blink > 0 && self.panels.len() > 1 && random.chance(blink))
            {
                best = Some((index, place));
            }
        }
        // Now and then another place on that sheet, so that a small job with
        // one sheet is not built the same way for ever.
        if let Some((index, place)) = &mut best
            && blink > 0
            && random.chance(blink)
        {
            let drawn = self.panels[*index].any_place(shape, self.shop.levels, random);
            *place = drawn.unwrap_or(*place);
        }
        (total, best)
    }

    /// Puts a block on a sheet.
    fn put(&mut self, block: u32, index: usize, place: Place) {
        self.save(index);
        self.panels[index].put(block, &self.shop.blocks[block as usize], place);
        self.changed(index);
    }

    /// Puts back as many blocks as find a place. Opens sheets within the limit
    /// if `open` is set.
    pub(super) fn put_back(&mut self, rule: Rule, blink: usize, open: bool, random: &mut Seeded) {
        if rule == Rule::FewestPlaces {
            self.put_back_scarce(blink, open, random);
        } else {
            self.put_back_sorted(rule, blink, open, random);
        }
    }

    /// Puts blocks in by size.
    fn put_back_sorted(&mut self, rule: Rule, blink: usize, open: bool, random: &mut Seeded) {
        let shop = self.shop;
        let key = |&block: &u32| {
            let block = &shop.blocks[block as usize];
            let [a, b] = block.size;
            let main = match rule {
                Rule::LongSide => i64::from(a.max(b)),
                Rule::ShortSide => i64::from(a.min(b)),
                Rule::Area | Rule::FewestPlaces => block.area,
            };
            (std::cmp::Reverse(main), std::cmp::Reverse(block.area))
        };
        let mut waiting = std::mem::take(&mut self.out);
        waiting.sort_by_key(|block| (key(block), *block));
        for block in waiting {
            let mut found = self.survey(block, blink, random).1;
            if found.is_none() && open && self.open_for(block, random) {
                found = self.survey(block, 0, random).1;
            }
            match found {
                Some((index, place)) => self.put(block, index, place),
                None => self.out.push(block),
            }
        }
    }

    /// Puts in always the block that has the fewest places left.
    fn put_back_scarce(&mut self, blink: usize, open: bool, random: &mut Seeded) {
        let mut waiting = std::mem::take(&mut self.out);
        waiting.sort_by_key(|&block| (std::cmp::Reverse(self.shop.blocks[block as usize].area), block));
        while !waiting.is_empty() {
            let mut best: Option<(u32, usize, usize, Place)> = None;
            let mut last = None;
            for (at, &block) in waiting.iter().enumerate() {
                if last.replace(block) == Some(block) {
                    continue;
                }
                let (count, found) = self.survey(block, blink, random);
                if let Some((index, place)) = found
                    && best.is_none_or(|(least, ..)| count < least)
                {
                    best = Some((count, at, index, place));
                }
            }
            if let Some((_, at, index, place)) = best {
                let block = waiting.remove(at);
                self.put(block, index, place);
                continue;
            }
            let opened = open && waiting.iter().any(|&block| self.open_for(block, random));
            if !opened {
                break;
            }
        }
        self.out.append(&mut waiting);
    }

    /// Opens a sheet the block fits on; among several kinds it prefers the
    /// cheap area, at random.
    fn open_for(&mut self, block: u32, random: &mut Seeded) -> bool {
        let shape = &self.shop.blocks[block as usize];
        let fits = |&kind: &usize| self.can_open(kind) && self.shop.fits(shape, &self.shop.kinds[kind]);
        let mut kinds: Vec<usize> = (0..self.shop.kinds.len()).filter(fits).collect();
        if kinds.is_empty() {
            return false;
        }
        kinds.sort_by(|&a, &b| {
            let [a, b] = [a, b].map(|kind| &self.shop.kinds[kind]);
            let (left, right) = (a.cost as f64 * b.area as f64, b.cost as f64 * a.area as f64);
            left.total_cmp(&right)
        });
        let mut pick = 0;
        while pick + 1 < kinds.len() && random.chance(35) {
            pick += 1;
        }
        self.open(kinds[pick]);
        true
    }

    /// Takes over the sheets of a finished plan.
    pub(super) fn adopt(&mut self, panels: &[Panel], out: &[u32]) {
        self.out = out.to_vec();
        for panel in panels {
            self.cost += self.shop.kinds[panel.kind].cost;
            self.stock[panel.kind] -= 1;
            self.panels.push(panel.clone());
            let index = self.panels.len() - 1;
            self.changed(index);
        }
    }
}
