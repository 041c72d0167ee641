//! In words: what joints need besides the parts.

use super::Words;
use crate::joinery::Item;
use crate::joinery::facts::item::{Arm, Fastener, Handle, Ironmongery, Size, Support, Wooden};
use crate::joinery::facts::thread::Thread;
use crate::measure::{self, Unit};
use crate::timber::numbered::gauge;

impl Words {
    /// What an item is, with its size: `loose tenon 8 × 22 × 40`.
    pub fn item(self, item: &Item) -> String {
        match item {
            Item::Named(name) => name.clone(),
            Item::Wooden(item) => self.wooden(item),
            Item::Fastener(item) => self.fastener(*item),
            Item::Ironmongery(item) => self.ironmongery(*item),
            Item::Support(item) => self.support(*item),
        }
    }

    /// What is cut from wood.
    fn wooden(self, item: &Wooden) -> String {
        let wood = |wood: &Option<String>| wood.clone().unwrap_or_else(|| "the same wood".into());
        match item {
            Wooden::LooseTenon(size) => format!("loose tenon {}", self.tenon(&size.map(Size::mm))),
            Wooden::Dowel(size) => format!("dowel {}", self.sold(size)),
            Wooden::Biscuit(size) => {
                let (length, width) = size.lens();
                format!("biscuit {}, {length} × {width} mm", size.number())
            }
            Wooden::LooseTongue(size) => format!("loose tongue {}", self.by(size)),
            Wooden::Peg(size, of) => format!("peg ⌀ {}, riven, of {}", self.by(size), wood(of)),
            Wooden::Plug(size, of) => format!("plug ⌀ {}, face grain, of {}", self.sold(size), wood(of)),
            Wooden::Wedge(size, of) => format!("wedge {}, of {}", self.by(size), wood(of)),
            Wooden::FoxedWedge(size, of) => format!("foxed wedge {}, of {}", self.by(size), wood(of)),
            Wooden::StopBlock(size) => format!("stop block {}", self.by(size)),
            Wooden::Button(block, tongue) => {
                format!("wood button {}, tongue {}", self.by(block), self.by(tongue))
            }
        }
    }

    /// Screws and what holds parts together.
    fn fastener(self, item: Fastener) -> String {
        match item {
            Fastener::Screw(size) => format!("screw {}", self.screw(size.map(Size::mm))),
            Fastener::WashedScrew(size) => {
                format!("screw {}, round head, with washer", self.screw(size.map(Size::mm)))
            }
            Fastener::PocketScrew(size) => format!("pocket screw {}", self.screw(size.map(Size::mm))),
            Fastener::Pin(size) => format!("pin {}", self.pin(size.map(Size::mm))),
            Fastener::Bolt(size, handle) => format!("bolt {} for a {}", self.bolt(size), handle_name(handle)),
            Fastener::ClampingConnector => "clamping connector".into(),
            Fastener::ShelfPin(thick) => format!("shelf pin ⌀ {}", self.sold(&[thick])),
            Fastener::InsertNut(thread, bore) => {
                format!("insert nut {}, ⌀ {}", thread.name(), self.sold(&bore))
            }
        }
    }

    /// A pin; by its gauge where it is sold by that: `18 gauge × 3/4″`.
    pub(super) fn pin(self, [wide, long]: [f64; 2]) -> String {
        match gauge(wide) {
            Some(gauge) => format!("{gauge} gauge × {}", self.sold_length(long)),
            None => self.bought(&[wide, long]),
        }
    }

    /// A bolt by its thread, where that is one by the inch, and length: `8-32 × 1 1/4″`.
    fn bolt(self, [wide, long]: [Size; 2]) -> String {
        let by_the_inch = Thread::ALL
            .into_iter()
            .find(|thread| thread.of(Unit::Inch) == *thread && Size::of(thread.bolt()) == wide);
        match by_the_inch {
            Some(thread) => format!("{} × {}", thread.name(), self.sold_length(long.mm())),
            None => self.by(&[wide, long]),
        }
    }

    /// Fittings of doors and drawers.
    fn ironmongery(self, item: Ironmongery) -> String {
        match item {
            Ironmongery::CupHinge(cup, arm) => {
                let arm = match arm {
                    Arm::Inset => "inset",
                    Arm::HalfOverlay => "half overlay",
                    Arm::FullOverlay => "full overlay",
                };
                format!("cup hinge ⌀ {}, {arm}", self.sold(&[cup]))
            }
            Ironmongery::HingePlate(high) => {
                format!("hinge plate {} high, 2 screws", self.sold_length(high.mm()))
            }
            Ironmongery::ButtHinge([long, wide, shut]) => {
                format!("butt hinge {}, {} thick shut", self.sold(&[long, wide]), self.sold_length(shut.mm()))
            }
            Ironmongery::Knob => "knob".into(),
            Ironmongery::Pull(centres) => self.pull(centres.mm()),
            Ironmongery::MagneticCatch([long, deep]) => self.magnetic_catch(long.mm(), deep.mm()),
            Ironmongery::BoredMagnet([wide, deep]) => self.bored_magnet(wide.mm(), deep.mm()),
            Ironmongery::BallCatch([wide, deep]) => self.ball_catch(wide.mm(), deep.mm()),
            Ironmongery::Runner(long) => format!("runner {} long, one side", self.sold_length(long.mm())),
        }
    }

    /// Fittings that hang or hold.
    fn support(self, item: Support) -> String {
        match item {
            Support::GlazingPoint => "glazing point".into(),
            Support::FrameClips => "pair of frame clips".into(),
            Support::LevellingFoot(thread, bore) => {
                format!("levelling foot {} with insert ⌀ {}", thread.name(), self.sold(&bore))
            }
            Support::WallRod([thick, length, in_wall]) => {
                let rod = self.sold(&[thick, length]);
                format!("bracket rod ⌀ {rod} + {} in the wall", self.figure(in_wall.mm()))
            }
            Support::PlateRod(rod, plate) => {
                format!("bracket rod ⌀ {} on plate {}", self.sold(&rod), self.by(&plate))
            }
            // By its name, which is metric whatever the sheet is in.
            Support::WallFixing(Some(thick)) => {
                format!("wall fixing ⌀ {}, rated for wall and load", measure::number(thick.mm(), 1))
            }
            Support::WallFixing(None) => "wall fixing, rated for wall and load".into(),
            Support::WallScrew => "screw through the piece, suited to wall and load".into(),
        }
    }

    /// Sizes it is bought by.
    fn sold(self, sizes: &[Size]) -> String {
        let sizes: Vec<f64> = sizes.iter().map(|size| size.mm()).collect();
        self.bought(&sizes)
    }

    /// A length it is bought by, with its unit: what is sold in millimetres stays so.
    fn sold_length(self, mm: f64) -> String {
        if self.lengths.unit == Unit::Mm { self.length(mm) } else { self.bought(&[mm]) }
    }

    /// Sizes it is made to: `6 × 18 × 600`.
    fn by(self, sizes: &[Size]) -> String {
        let figures: Vec<String> = sizes.iter().map(|size| self.figure(size.mm())).collect();
        figures.join(" × ")
    }

    /// `pull, centres 96 mm`.
    pub(super) fn pull(self, centres: f64) -> String {
        format!("pull, centres {}", self.sold_length(centres))
    }

    /// `magnetic catch 46 × 14 with plate`.
    pub(super) fn magnetic_catch(self, long: f64, deep: f64) -> String {
        format!("magnetic catch {} with plate", self.bought(&[long, deep]))
    }

    /// `magnetic catch ⌀ 8 × 14 with plate`.
    pub(super) fn bored_magnet(self, wide: f64, deep: f64) -> String {
        format!("magnetic catch ⌀ {} with plate", self.bought(&[wide, deep]))
    }

    /// `ball catch ⌀ 8 × 14 with plate`.
    pub(super) fn ball_catch(self, wide: f64, deep: f64) -> String {
        format!("ball catch ⌀ {} with plate", self.bought(&[wide, deep]))
    }

    /// `8 × 22 × 40`, thickness, width, length.
    pub(super) fn tenon(self, size: &[f64]) -> String {
        self.in_mm(size)
            .unwrap_or_else(|| size.iter().map(|v| self.figure(*v)).collect::<Vec<_>>().join(" × "))
    }

    /// `8 × 22 × 40 mm` on a drawing in inches, where all are whole millimetres: loose tenons
    /// are bought by name, and so are the cutters for them.
    pub fn in_mm(self, size: &[f64]) -> Option<String> {
        let whole = |v: &f64| (v - v.round()).abs() < WHOLE;
        let figure = |v: &f64| v.round().to_string();
        let sold = self.lengths.unit == Unit::Inch && size.iter().all(whole);
        sold.then(|| format!("{} mm", size.iter().map(figure).collect::<Vec<_>>().join(" × ")))
    }
}

/// How near a length is to whole millimetres that is in whole millimetres, mm: sizes in
/// inches are further off.
const WHOLE: f64 = 1e-6;

/// What a bolt holds.
fn handle_name(handle: Handle) -> &'static str {
    match handle {
        Handle::Knob => "knob",
        Handle::Pull => "pull",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joinery::facts::item::{BiscuitSize, sizes};
    use crate::joinery::facts::thread::Thread;
    use crate::measure::Unit;

    #[test]
    fn one_item_reads_in_the_unit_of_its_sheet() {
        let read = |item: Item| [Unit::Mm, Unit::Inch].map(|unit| Words::of(unit).item(&item));
        // What is made is worded in the unit of the sheet.
        let tongue = read(Wooden::LooseTongue(sizes([6.35, 19.05, 609.6])).into());
        assert_eq!(tongue, ["loose tongue 6.4 × 19.1 × 609.6", "loose tongue 1/4″ × 3/4″ × 24″"]);
        // What is bought keeps the sizes it is sold by.
        let screw = read(Fastener::Screw(sizes([4.0, 30.0])).into());
        assert_eq!(screw, ["screw 4 × 30", "screw 4 × 30 mm"]);
        let tenon = read(Wooden::LooseTenon(sizes([8.0, 22.0, 40.0])).into());
        assert_eq!(tenon, ["loose tenon 8 × 22 × 40", "loose tenon 8 × 22 × 40 mm"]);
        let [biscuit, same] = read(Wooden::Biscuit(BiscuitSize::No10).into());
        assert_eq!((biscuit.as_str(), &biscuit), ("biscuit 10, 53 × 19 mm", &same));
        let foot = read(Support::LevellingFoot(Thread::M8, sizes([12.7, 19.05])).into());
        assert_eq!(
            foot,
            ["levelling foot M8 with insert ⌀ 12.7 × 19.1", "levelling foot M8 with insert ⌀ 1/2″ × 3/4″"]
        );
        // A bolt by the inch goes by its thread, whatever the sheet is in.
        let bolt = read(Fastener::Bolt(sizes([Thread::No8.bolt(), 31.75]), Handle::Knob).into());
        assert_eq!(bolt[1], "bolt 8-32 × 1 1/4″ for a knob");
        assert!(bolt[0].starts_with("bolt 8-32 × "), "{}", bolt[0]);
        // So do pins by their gauge.
        let pin = read(Fastener::Pin(sizes([0.0475 * 25.4, 19.05])).into());
        assert_eq!(pin, ["pin 18 gauge × 19.1 mm", "pin 18 gauge × 3/4″"]);
        let metric = read(Fastener::Pin(sizes([1.2, 20.0])).into());
        assert_eq!(metric, ["pin 1.2 × 20", "pin 1.2 × 20 mm"]);
        // What the script names is left as it is.
        let named = read(Item::Named("toggle, 50 kg".into()));
        assert_eq!(named, ["toggle, 50 kg", "toggle, 50 kg"]);
    }

    #[test]
    fn only_tenons_and_dowels_are_glued_all_over() {
        assert!(Item::from(Wooden::Dowel(sizes([8.0, 30.0]))).is_glued());
        assert!(Item::from(Wooden::LooseTenon(sizes([8.0, 22.0, 40.0]))).is_glued());
        // A stock or a fixing with the word in its name is not.
        let plug = Wooden::Plug(sizes([10.0, 8.0]), Some("dowel stock".into()));
        assert!(!Item::from(plug).is_glued());
        assert!(!Item::Named("dowel screw".into()).is_glued());
    }
}
