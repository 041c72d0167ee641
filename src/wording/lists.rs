//! In words: the lists of the shop, with remarks of the cutting list and lines of the
//! order.

use super::Words;
use crate::cutting::{
    Boards, Bought, BuyLine, CompoundEnd, CutRow, EndCuts, Inlaid, InlayKind, LaterCut, Measure, Note,
    Scribed,
};
use crate::measure::{Unit, number};
use crate::model::{Face, Staves};
use crate::problem::wording::{and_list, capital, count};

/// Two slopes nearer than this are one, degrees: half of what is shown.
const SAME_SLOPE: f64 = 0.05;

/// Steps of a degree that slopes are shown in.
const TENTHS: f64 = 10.0;

impl Words {
    /// The remark column of a row: sloping ends, cuts that wait, what is
    /// inlaid, what is for the chuck, the remark of the script.
    pub fn remarks(self, row: &CutRow) -> String {
        self.remarked(row, row.after_glue_up.iter().map(|cut| self.later(*cut)).collect())
    }

    /// The same for a list that has a column of its own for cuts that wait.
    pub fn other_remarks(self, row: &CutRow) -> String {
        self.remarked(row, Vec::new())
    }

    /// All that is to be remarked of a row, `later` being what waits.
    fn remarked(self, row: &CutRow, later: Vec<String>) -> String {
        let mut all: Vec<String> = Vec::new();
        all.extend(row.ends.as_ref().map(|ends| self.ends(ends, &row.compound)));
        all.extend(row.staves.zip(row.stave_width).map(|(count, wide)| self.staved(Staves { count, wide })));
        all.extend(later);
        all.extend(row.inlaid.iter().map(|inlaid| self.inlaid(inlaid)));
        let chuck = |more| format!("{} of its rough length to chuck it", self.figure(more));
        all.extend(row.chucking.map(chuck));
        let scribed =
            |one: &Scribed| format!("{} left on the {} to scribe", self.figure(one.allow), one.side.name());
        all.extend(row.scribed.iter().map(scribed));
        all.extend(cut_already(row));
        all.extend(row.remark.clone());
        all.join("; ")
    }

    /// How the lists of a workbook are to be read. `grainless` names stocks without a grain.
    pub fn how_to_read(self, grainless: &[&str]) -> [(&'static str, String); 3] {
        let unit = if self.lengths.unit == Unit::Mm { "millimetres" } else { "inches, as decimals" };
        let turned: Vec<String> = grainless.iter().map(|name| (*name).to_owned()).collect();
        let turned = match turned.as_slice() {
            [] => String::new(),
            names => format!("; parts of {} may be turned", and_list(names)),
        };
        [
            (
                "lengths",
                format!(
                    "{unit}, finished; the rough ones are what a part is first cut to, of boards with the thickness they are sawn to"
                ),
            ),
            ("grain", format!("runs along the length{turned}")),
            ("caution", "these lists are an aid: check them before cutting".into()),
        ]
    }

    /// `glued up of 5 boards 144 wide`.
    pub fn staved(self, staves: Staves) -> String {
        format!("glued up of {} boards {} wide", staves.count, self.figure(staves.wide))
    }

    /// `rebate after glue-up`.
    pub fn later(self, cut: LaterCut) -> String {
        format!("{} after glue-up", cut.name())
    }

    /// `45° both ends, long point 900, short point 864`; of ends cut parallel, where no point
    /// is longer than another, `5° both ends, parallel, 440 along each edge`.
    ///
    /// Ends that lean two ways are told as the saw is set: `near end gauge 5.1°, blade
    /// 44.6°`; one slope would be neither.
    fn ends(self, ends: &EndCuts, compound: &[CompoundEnd]) -> String {
        let slope = |angle: f64| format!("{}°", (angle * TENTHS).round() / TENTHS);
        let left =
            |end: Face, slope: Option<f64>| slope.filter(|_| compound.iter().all(|one| one.end != end));
        let which = match (left(Face::NearEnd, ends.near), left(Face::FarEnd, ends.far)) {
            (Some(a), Some(b)) if (a - b).abs() < SAME_SLOPE => format!("{} both ends", slope(a)),
            (Some(a), Some(b)) => format!("{} near end, {} far end", slope(a), slope(b)),
            (Some(a), None) => format!("{} near end", slope(a)),
            (None, Some(b)) => format!("{} far end", slope(b)),
            (None, None) => String::new(),
        };
        let saw = |one: &CompoundEnd| {
            let stood = if one.on_edge { ", on its edge" } else { "" };
            format!("gauge {}, blade {}{stood}", slope(one.gauge), slope(one.blade))
        };
        let both = match compound {
            [near, far] if saw(near) == saw(far) => vec![format!("{} both ends", saw(near))],
            all => all.iter().map(|one| format!("{} {}", one.end.name(), saw(one))).collect(),
        };
        let which: Vec<String> =
            Some(which).filter(|which| !which.is_empty()).into_iter().chain(both).collect();
        if which.is_empty() {
            return String::new();
        }
        let which = which.join(", ");
        if let Some(edge) = ends.edge {
            return format!("{which}, parallel, {} along each edge", self.figure(edge));
        }
        let (long, short) = (self.figure(ends.long_point), self.figure(ends.short_point));
        format!("{which}, long point {long}, short point {short}")
    }

    /// `2 rings 6 wide, 3 deep, black resin`.
    fn inlaid(self, inlaid: &Inlaid) -> String {
        let (width, depth) = (self.figure(inlaid.width), self.figure(inlaid.depth));
        let (many, size) = match inlaid.kind {
            InlayKind::Ring => (count(inlaid.count, "ring", "rings"), format!("{width} wide, {depth} deep")),
            InlayKind::Hollow => {
                (count(inlaid.count, "hollow", "hollows"), format!("⌀ {width}, {depth} deep"))
            }
        };
        format!("{many} {size}, {}", inlaid.what)
    }

    /// What a line of the order is.
    pub fn goods(self, what: &Bought) -> String {
        let inches = self.lengths.unit == Unit::Inch;
        match what {
            Bought::Stock(name) | Bought::Finish(name) => name.clone(),
            Bought::Fitting(item) => self.item(item),
            Bought::Ready { stock, mark, name } => format!("{stock} for {mark} {name}"),
            Bought::Glue => "Wood glue".into(),
            Bought::Filling(what) => format!("{}, to inlay", capital(what)),
            Bought::Disc { grit } if inches => format!("disc Ø 6″, grit {grit}"),
            Bought::Disc { grit } => format!("disc Ø 150 mm, grit {grit}"),
            Bought::RubbingSheet { grit } if inches => format!("sheet 9″ × 11″, grit {grit}, between coats"),
            Bought::RubbingSheet { grit } => format!("sheet 230 × 280 mm, grit {grit}, between coats"),
        }
    }

    /// The remark of a line: what its packs hold, how its quantity comes about, what it
    /// is ordered by.
    pub fn line_remark(self, line: &BuyLine) -> String {
        let pack = line.pack.map(|pack| {
            let sign =
                if pack.of == Measure::Pieces { String::new() } else { format!(" {}", pack.of.sign()) };
            format!("packs of {}{sign}, {}{sign} needed", number(pack.holds, 3), number(pack.needed, 3))
        });
        let note = Some(self.note(line.note.as_ref())).filter(|note| !note.is_empty());
        let code = line.code.as_ref().map(|code| format!("order {code}"));
        [pack, note, code].into_iter().flatten().collect::<Vec<_>>().join("; ")
    }

    /// How the quantity of a line of the order comes about.
    pub fn note(self, note: Option<&Note>) -> String {
        match note {
            None => String::new(),
            Some(Note::SoldAs(called)) => self.sold_as(*called),
            Some(Note::Boards(boards)) => format!("{}{}", self.boards(boards), self.left_away(boards.edge)),
            Some(Note::Glued { area, spread }) => {
                format!("{} of joints at {}", self.area(*area), self.spread(*spread))
            }
            Some(Note::Coats { area, coats, coverage, stated }) => {
                let coats = count(*coats as usize, "coat", "coats");
                let usual = if *stated { "" } else { ", as is usual: see its tin" };
                format!("{}, {coats} at {}{usual}", self.area(*area), self.coverage(*coverage))
            }
            Some(Note::Sanded { area, each }) => {
                format!("{}, one for each {}", self.area(*area), self.area(*each))
            }
            Some(Note::Inlays { count: n, volume, waste, density, stated }) => {
                let inlays = count(*n, "inlay", "inlays");
                let memory = if *stated { "" } else { " from memory" };
                let weighed = density.map(|density| format!("; {} kg/m³{memory}", number(density, 0)));
                format!(
                    "{inlays}, {} cm³; {} % waste in it{}",
                    number(*volume, 1),
                    number(*waste, 1),
                    weighed.unwrap_or_default()
                )
            }
        }
    }

    /// `sold as 3/4″`: the thickness a sheet is asked for by.
    pub fn sold_as(self, called: f64) -> String {
        format!("sold as {}", self.length(called))
    }

    /// `; 15 mm of each edge, sapwood or wane, is left away`, where any is.
    fn left_away(self, edge: f64) -> String {
        if edge <= 0.0 {
            return String::new();
        }
        format!("; {} of each long edge, sapwood or wane, is bought and left away", self.length(edge))
    }

    /// `4.9 board feet; 15 % waste in it; about 2 of 2400 mm × 180 mm, 71 % of them parts`.
    fn boards(self, boards: &Boards) -> String {
        let size = |(count, [long, wide]): &(usize, [f64; 2])| {
            format!("{count} of {} × {}", self.length(*long), self.length(*wide))
        };
        let sizes: Vec<String> = boards.sizes.iter().map(size).collect();
        let sizes = sizes.join(", ");
        let (feet, waste, parts) = (number(boards.feet, 1), number(boards.waste, 1), number(boards.parts, 0));
        if !boards.whole {
            let glued =
                boards.glued_over.map(|widest| format!(", glued up where over {}", self.length(widest)));
            let glued = glued.unwrap_or_default();
            let less = if boards.less_rest { " less what one has over" } else { "" };
            return format!(
                "{feet} board feet; {waste} % waste in it; laid out on {sizes}{less}{glued}; {parts} % of that becomes parts"
            );
        }
        let spare = match boards.spare {
            0 => format!("what is left of them is over {waste} % for waste"),
            1 => format!("one of them for {waste} % waste"),
            more => format!("{more} of them for {waste} % waste"),
        };
        format!("{sizes}; {feet} board feet; {spare}; {parts} % of what is laid out becomes parts")
    }
}

/// That some of a row are cut already: `cut already`, `2 of 3 cut already`.
pub fn cut_already(row: &CutRow) -> Option<String> {
    match (row.cut, row.left()) {
        (0, _) => None,
        (_, 0) => Some("cut already".into()),
        (cut, _) => Some(format!("{cut} of {} cut already", row.quantity)),
    }
}
