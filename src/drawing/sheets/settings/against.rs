//! What lies against the fence for a cut, and putting together settings that
//! differ in nothing else.

use super::gather::Setting;

/// What lies against the fence or on the table.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::drawing) enum Against {
    /// Faces or ends against the fence, in turn, and those the cutter goes in
    /// from.
    Fence {
        /// What lies against the fence.
        fence: Vec<&'static str>,
        /// `cut` or `bored`.
        made: &'static str,
        /// Where the cutter goes in.
        from: Vec<&'static str>,
    },
    /// In words.
    Words(String),
}

impl Against {
    /// `near end, far end to the fence, cut from the face side`.
    pub(in crate::drawing) fn text(&self) -> String {
        match self {
            Self::Words(words) => words.clone(),
            Self::Fence { fence, made, from } => {
                format!("{} to the fence, {made} from the {}", fence.join(", "), from.join(", "))
            }
        }
    }

    /// This and another as one, if they differ in one of both alone.
    fn with(&self, other: &Self, same: Same) -> Option<Self> {
        let (Self::Fence { fence, made, from }, Self::Fence { fence: f, made: m, from: g }) = (self, other)
        else {
            return None;
        };
        if made != m {
            return None;
        }
        let (mut fence, mut from) = (fence.clone(), from.clone());
        match same {
            Same::From if from == *g => fence.extend(f),
            Same::Fence if fence == *f => from.extend(g),
            Same::From | Same::Fence => return None,
        }
        Some(Self::Fence { fence, made, from })
    }
}

/// In what two cuts must agree to be told as one.
#[derive(Clone, Copy, Debug)]
enum Same {
    From,
    Fence,
}

/// Puts settings that set the machine alike one after the other, and cuts of
/// the same parts that differ only in what lies against the fence, or in where
/// the cutter goes in, into one line.
pub(in crate::drawing) fn together(all: Vec<Setting>) -> Vec<Setting> {
    let alike = |a: &Setting, b: &Setting| {
        a.machine == b.machine && a.later == b.later && a.cut == b.cut && a.set == b.set
    };
    let mut groups: Vec<Vec<Setting>> = Vec::new();
    for setting in all {
        match groups.iter_mut().find(|group| alike(&group[0], &setting)) {
            Some(group) => group.push(setting),
            None => groups.push(vec![setting]),
        }
    }
    groups.into_iter().flat_map(|group| merged(merged(group, Same::From), Same::Fence)).collect()
}

/// Settings with those that agree so made one.
fn merged(group: Vec<Setting>, same: Same) -> Vec<Setting> {
    let mut list: Vec<Setting> = Vec::new();
    for setting in group {
        let found = list.iter_mut().find_map(|have| {
            let joined = have
                .against
                .with(&setting.against, same)
                .filter(|_| have.parts == setting.parts && have.stops == setting.stops)?;
            Some((have, joined))
        });
        match found {
            Some((have, joined)) => {
                have.against = joined;
                have.parts.iter_mut().zip(&setting.parts).for_each(|(part, more)| part.1 += more.1);
            }
            None => list.push(setting),
        }
    }
    list
}
