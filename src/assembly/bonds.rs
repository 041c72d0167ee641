//! Which units hold together, and what would fall apart.

use super::blocking::Blocking;

/// Which units of a set its joints hold together.
pub(super) struct Bonds<'b> {
    blocking: &'b Blocking,
    /// For each unit of the piece the assembly of the set it belongs to.
    home: Vec<Option<usize>>,
    /// The assemblies that nothing joins to one another.
    assemblies: Vec<Vec<usize>>,
}

impl<'b> Bonds<'b> {
    pub(super) fn of(blocking: &'b Blocking, set: &[usize]) -> Self {
        let mut home = vec![None; blocking.units.len()];
        let mut left = vec![false; blocking.units.len()];
        for unit in set {
            left[*unit] = true;
        }
        let assemblies = bodies(blocking, set, &mut left);
        for (index, assembly) in assemblies.iter().enumerate() {
            for unit in assembly {
                home[*unit] = Some(index);
            }
        }
        Self { blocking, home, assemblies }
    }

    /// The assemblies of several units, where there are more than one.
    pub(super) fn made_up(&self) -> Vec<Vec<usize>> {
        let mut several: Vec<Vec<usize>> =
            self.assemblies.iter().filter(|assembly| assembly.len() > 1).cloned().collect();
        for assembly in &mut several {
            assembly.sort_unstable();
        }
        if several.len() > 1 { several } else { Vec::new() }
    }

    /// Whether the set without `group`, or `group` itself, falls into loose
    /// parts.
    pub(super) fn scatters(&self, group: &[usize]) -> bool {
        let mut touched: Vec<usize> = group.iter().filter_map(|unit| self.home[*unit]).collect();
        touched.sort_unstable();
        touched.dedup();
        let whole = self.assemblies.len() - touched.len();
        if whole > 1 || touched.len() > 1 {
            return true;
        }
        let mut left = vec![false; self.home.len()];
        for unit in group {
            left[*unit] = true;
        }
        if bodies(self.blocking, group, &mut left).len() > 1 {
            return true;
        }
        let mut rest: Vec<usize> = touched.iter().flat_map(|i| self.assemblies[*i].iter().copied()).collect();
        for unit in &rest {
            left[*unit] = true;
        }
        for unit in group {
            left[*unit] = false;
        }
        rest.retain(|unit| left[*unit]);
        whole + bodies(self.blocking, &rest, &mut left).len() > 1
    }
}

/// The units of `set` as bodies that joints hold together; `left` says which
/// units are in it and is cleared.
fn bodies(blocking: &Blocking, set: &[usize], left: &mut [bool]) -> Vec<Vec<usize>> {
    let mut found = Vec::new();
    for &first in set {
        if !std::mem::take(&mut left[first]) {
            continue;
        }
        let mut body = vec![first];
        let mut next = 0;
        while let Some(&unit) = body.get(next) {
            body.extend(blocking.joined(unit).filter(|other| std::mem::take(&mut left[*other])));
            next += 1;
        }
        found.push(body);
    }
    found
}
