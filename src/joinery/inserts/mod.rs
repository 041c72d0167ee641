//! Loose pieces let into both parts: tenons, dowels, biscuits, screws, connectors, pins.

pub(in crate::joinery) mod biscuits;
pub(in crate::joinery) mod connector;
pub(in crate::joinery) mod dowels;
pub(in crate::joinery) mod fitting;
pub(in crate::joinery) mod loose_tenons;
pub(in crate::joinery) mod pocket_screws;
pub(in crate::joinery) mod screw_pattern;
pub(in crate::joinery) mod screw_seat;
pub(in crate::joinery) mod screw_slots;
pub(in crate::joinery) mod screws;
pub(in crate::joinery) mod shelf_pins;
