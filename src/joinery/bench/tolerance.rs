//! Every tolerance of joinery, with its reason.

/// How far a length or an angle may miss its bound by reckoning alone, mm or degrees: far under any cut, far
/// over the noise of f64. Sizes that just fit must pass, whichever way they were added
/// up.
pub(in crate::joinery) const NOISE: f64 = 1e-6;

/// Faces that share less than this hold nothing together, mm² (common practice, no source).
pub(crate) const HOLDS: f64 = 1.0;

/// The same for lengths that are stepped through or rounded, mm: no more than a few
/// sums go into them, and what is rounded up must not gain a step by noise.
pub(in crate::joinery) const STEPPED: f64 = 1e-9;

/// By how much a cosine or a share must be the greater one to count as greater, and what of a unit
/// direction is none: so that of equal directions the first keeps its place, on every
/// machine.
pub(in crate::joinery) const TURNED: f64 = 1e-9;

/// What of a unit direction is none where it comes from products of several axes.
pub(in crate::joinery) const LEVEL: f64 = 1e-6;

/// Cosine from which two directions are one, where both come from the same axes.
pub(in crate::joinery) const ONE_WAY: f64 = 1.0 - 1e-9;

/// The same for the normals of carved faces, which come from more steps.
pub(in crate::joinery) const SAME_WAY: f64 = 1.0 - 1e-6;

/// Angles nearer than this are the same, degrees.
pub(in crate::joinery) const SAME_ANGLE: f64 = 1e-9;

/// Directions nearer than this to parallel count as parallel (cosine); about 0.08
/// degrees.
pub(in crate::joinery) const PARALLEL: f64 = 0.999_999;

/// Cosine from which a direction looks to a side of the piece: 2.6 degrees, so that a
/// part a script has turned by a hair still has its front.
pub(in crate::joinery) const LOOKS: f64 = 0.999;

/// Cosine from which a direction lies mostly along another: 26 degrees.
pub(in crate::joinery) const MOSTLY: f64 = 0.9;

/// Cosine from which a direction lies nearer along another than across it: 45 degrees,
/// with a little to spare.
pub(in crate::joinery) const NEARER: f64 = 0.7;

/// Cosine from which a face looks more to a side than to any beside it: 45 degrees, a
/// hair less, so that one that stands just between looks to neither.
pub(in crate::joinery) const HALF_SQUARE: f64 = 0.7072;

/// Cosine under which a direction lies square to another: 6 degrees off.
pub(in crate::joinery) const ASKEW: f64 = 0.1;

/// Area under which three points lie on one line, mm².
pub(in crate::joinery) const NO_AREA: f64 = 1e-9;

/// How near a corner lies to a line that it lies on, mm: ten times finer than `NOISE`,
/// which tells corners apart that such lines meet in.
pub(in crate::joinery) const ON_LINE: f64 = 1e-7;

/// Sizes nearer than this are the same, mm: a hundredth, finer than anything is made to.
pub(in crate::joinery) const SAME_SIZE: f64 = 0.01;

/// Sine under which two parts run the same way and so make no corner: half a degree.
pub(in crate::joinery) const IN_LINE: f64 = 0.01;
