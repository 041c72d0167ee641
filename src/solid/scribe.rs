//! Lines that show on a solid without being an edge of it.

use super::{Edge, Solid, Surface};
use crate::geometry::{DVec3, Plane};

/// Corners nearer to a plane than this lie in it, mm.
const ON: f64 = 1e-6;

impl Solid {
    /// Draws a line round the turned faces of the body where `plane` cuts them:
    /// the border of what is inlaid flush. Faces stay as they are.
    pub(crate) fn scribe(&mut self, plane: &Plane) {
        let mut lines: Vec<(DVec3, DVec3, u32)> = Vec::new();
        for (index, face) in (0_u32..).zip(&self.faces) {
            if face.from.cutter.is_some() || !matches!(face.from.surface, Surface::Band { .. }) {
                continue;
            }
            let along = plane.normal.cross(face.plane.normal);
            let mut met: Vec<(f64, DVec3)> = Vec::new();
            for ring in &face.loops {
                for (i, a) in ring.iter().enumerate() {
                    let b = ring[(i + 1) % ring.len()];
                    let (Some(a), Some(b)) = (self.points.get(*a as usize), self.points.get(b as usize))
                    else {
                        continue;
                    };
                    let (ha, hb) = (plane.distance(*a), plane.distance(*b));
                    if (ha > ON) != (hb > ON) {
                        let at = *a + (*b - *a) * (ha / (ha - hb)).clamp(0.0, 1.0);
                        met.push((along.dot(at), at));
                    }
                }
            }
            // Along the line, corners come in pairs: in at one, out at the next.
            met.sort_by(|p, q| p.0.total_cmp(&q.0));
            lines.extend(met.chunks_exact(2).map(|pair| (pair[0].1, pair[1].1, index)));
        }
        for (a, b, face) in lines {
            let Ok(first) = u32::try_from(self.points.len()) else { return };
            self.points.extend([a, b]);
            self.edges.push(Edge { a: first, b: first + 1, faces: [face, face], smooth: false });
        }
    }
}
