//! What a joint is, in figures and choices: millimetres, degrees, counts, never
//! words. [`wording`](crate::wording) makes the sentences of a sheet from them, in
//! the sheet's own unit.

pub mod bore;
pub mod channels;
pub mod corners;
pub mod deep;
pub mod doors;
pub mod edge;
pub mod hanging;
pub mod inserts;
pub mod tenons;
pub mod thread;
pub mod turning;
pub mod item;
pub mod traits;

/// The facts of a joint, by the room of its word.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Facts {
    /// Nothing but the word itself.
    #[default]
    Unstated,
    /// Boards and panels let into channels.
    Channels(channels::Channel),
    /// Mitres, fingers, dovetails.
    Corners(corners::CornerJoint),
    /// Hinges, runners, handles, stops and catches.
    Doors(doors::DoorFitting),
    /// Edge joints and lippings.
    Edge(edge::EdgeJoint),
    /// Cleats, brackets, clips, points, feet and buttons.
    Hanging(hanging::Hanging),
    /// Loose tenons, dowels, biscuits, screws, connectors, pins.
    Inserts(inserts::Inserted),
    /// Tenons and bridles.
    Tenons(tenons::Tenoned),
    /// Spigots and inlays.
    Turning(turning::TurnedJoint),
}
