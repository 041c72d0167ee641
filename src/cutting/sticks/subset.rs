//! The parts whose lengths add up to the most a stick has room for: every sum
//! that can be reached is a bit, part after part, and the way back from the
//! greatest picks one of the choices that reach it by lot (R. Bellman, "Notes on
//! the theory of dynamic programming IV: maximization over discrete sets", Naval
//! Research Logistics Quarterly, 1956).

use crate::cutting::sheets::seeded::Seeded;

/// Fills by sums, with the memory kept from one to the next.
pub(super) struct Subsets {
    /// All lengths are multiples of this.
    unit: i64,
    /// Words of bits that may still be looked at.
    pub(super) work: usize,
    /// A row of bits for the first 0, 1, 2 ... lengths.
    bits: Vec<u64>,
}

impl Subsets {
    /// For lengths that are multiples of `unit`.
    pub(super) fn new(unit: i64, work: usize) -> Self {
        Self { unit, work, bits: Vec::new() }
    }

    /// The greatest sum no more than `room`, and which lengths make it up.
    pub(super) fn fullest(&mut self, needs: &[i64], room: i64, random: &mut Seeded) -> (i64, Vec<usize>) {
        let Ok(room) = usize::try_from(room / self.unit) else { return (-1, Vec::new()) };
        let words = room / 64 + 1;
        // What goes by beside the bits costs as much as some words.
        self.work = self.work.saturating_sub((words + 24) * (needs.len() + 1));
        let needs: Vec<usize> =
            needs.iter().map(|need| usize::try_from(need / self.unit).unwrap_or(usize::MAX)).collect();
        self.reach(&needs, words);
        let reached = |row: usize, sum: usize| self.bits[row * words + sum / 64] >> (sum % 64) & 1 == 1;
        let most = (0..=room).rev().find(|&sum| reached(needs.len(), sum)).unwrap_or(0);
        let (mut sum, mut taken) = (most, Vec::new());
        for row in (0..needs.len()).rev() {
            let with = sum >= needs[row] && reached(row, sum - needs[row]);
            if with && (!reached(row, sum) || random.below(2) == 0) {
                taken.push(row);
                sum -= needs[row];
            }
        }
        (i64::try_from(most).unwrap_or(0) * self.unit, taken)
    }

    /// Sets the bits of all sums of the first 0, 1, 2 ... lengths.
    fn reach(&mut self, needs: &[usize], words: usize) {
        self.bits.clear();
        self.bits.resize((needs.len() + 1) * words, 0);
        self.bits[0] = 1;
        for (row, need) in needs.iter().enumerate() {
            let (before, after) = self.bits.split_at_mut((row + 1) * words);
            let (before, after) = (&before[row * words..], &mut after[..words]);
            after.copy_from_slice(before);
            let (far, shift) = (need / 64, need % 64);
            for (at, word) in after.iter_mut().enumerate().skip(far) {
                *word |= before[at - far] << shift;
                if shift > 0 && at > far {
                    *word |= before[at - far - 1] >> (64 - shift);
                }
            }
        }
    }
}

/// The greatest common divisor.
pub(super) fn common(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { common(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against every subset of nine lengths, worked out one by one.
    #[test]
    fn the_fullest_is_what_trying_all_finds() {
        let mut random = Seeded::new(7);
        let mut subsets = Subsets::new(3, usize::MAX);
        for _ in 0..50 {
            let needs: Vec<i64> = (0..9).map(|_| 3 * i64::try_from(1 + random.below(90)).unwrap()).collect();
            let room = i64::try_from(random.below(1000)).unwrap();
            let sums = (0..512)
                .map(|set: usize| (0..9).filter(|at| set >> at & 1 == 1).map(|at| needs[at]).sum::<i64>());
            let most = sums.filter(|sum| *sum <= room).max().unwrap();
            let (sum, taken) = subsets.fullest(&needs, room, &mut random);
            assert_eq!(sum, most);
            assert_eq!(taken.iter().map(|&at| needs[at]).sum::<i64>(), most);
        }
    }
}
