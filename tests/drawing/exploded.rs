//! Parts drawn apart: clear of one another, each back along its way in.

use rodwright::assembly::{Order, Step, StepKind, assembly_orders};
use rodwright::drawing::taken_apart;
use rodwright::geometry::DVec3;
use rodwright::joinery::WorkedJob;
use rodwright::solid::Standing;

use crate::support::sets::{scripts, worked};

fn orders() -> Vec<(String, WorkedJob, Vec<Order>)> {
    let of = |script: String| {
        let (job, parts) = worked(&script, &[]);
        let (orders, problems) = assembly_orders(&job, &parts);
        assert!(problems.is_empty(), "{script}: {problems:?}");
        (script, parts, orders)
    };
    scripts().into_iter().map(of).collect()
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn flow_lines_run_along_ways_in() {
        for (script, parts, orders) in orders() {
            let mut drawn = 0;
            for order in &orders {
                let (apart, flows) = taken_apart(&parts, order);
                let by = |part: usize| apart.iter().find(|a| a.part == part).unwrap().by;
                let ways: Vec<(usize, DVec3)> = order
                    .steps
                    .iter()
                    .filter(|s| s.kind != StepKind::Cut)
                    .flat_map(Step::all_motions)
                    .flat_map(|s| {
                        let adds = s.adds.iter().zip(&s.ways).filter_map(|(p, w)| Some((*p, (*w)?)));
                        adds.chain(s.together.iter().copied())
                    })
                    .collect();
                for flow in &flows {
                    let run = (flow.until - flow.from).normalize();
                    assert!(run.dot(flow.way) > 1.0 - 1e-9, "{script} {flow:?}");
                    // The part moves that way at some step, and the line joins
                    // places that come together.
                    let known = ways.iter().any(|(p, w)| *p == flow.part && w.dot(flow.way) > 1.0 - 1e-9);
                    assert!(known, "{script}: {} does not come that way", parts.parts[flow.part].name);
                    let apart = by(flow.to) - by(flow.part);
                    assert!((apart.normalize() - flow.way).length() < 1e-6, "{script} {flow:?}");
                    drawn += 1;
                }
                assert!(flows.len() + 2 >= apart.len() / 2, "{script}: {} of {}", flows.len(), apart.len());
            }
            assert!(drawn > 0, "{script}");
        }
    }

    #[test]
    fn every_part_is_there_once_and_none_overlap() {
        for (script, parts, orders) in orders() {
            for order in &orders {
                let (apart, _) = taken_apart(&parts, order);
                let mut seen: Vec<usize> = apart.iter().map(|a| a.part).collect();
                seen.sort_unstable();
                let expected: Vec<usize> =
                    (0..parts.parts.len()).filter(|p| parts.parts[*p].piece == order.piece).collect();
                assert_eq!(seen, expected, "{script}");
                let standing: Vec<Standing> = apart
                    .iter()
                    .map(|a| Standing::new(&parts.parts[a.part].solid, &parts.parts[a.part].at.moved(a.by)))
                    .collect();
                for (i, a) in standing.iter().enumerate() {
                    for (k, b) in standing.iter().enumerate().skip(i + 1) {
                        let names = (&parts.parts[apart[i].part].name, &parts.parts[apart[k].part].name);
                        assert_eq!(a.interferes(b), None, "{script}: {names:?}");
                    }
                }
            }
        }
    }
}
