//! Fittings bought by name: on the list, in the order at its end, and nowhere on the wood.

use rodwright::drawing::joint_details;
use rodwright::{Choices, examine, set_out};

use crate::support::golden::golden;
use crate::support::joints::{good, problem};
use crate::support::said::{called, item};
use crate::support::scripts::request;

/// A lid on its back, with what is bought for it.
fn lid(works: &str) -> String {
    format!(
        r#"job("B", #{{ unit: "mm" }});
let oak = board_stock("Oak", #{{ thick: [27, 34] }});
piece("B");
let back = board("Back", oak, #{{ x: [0, 600], y: [380, 400], z: [0, 380], grain: "x" }});
let lid = board("Lid", oak, #{{ x: [0, 600], y: [0, 400], z: [380, 400], grain: "x", face: "top" }});
{works}
butt_hinges(lid, back, #{{ opens: "back" }});"#
    )
}

#[test]
fn fittings_are_bought_and_go_on_last() {
    let text = lid("fitting(lid, \"lid stay, right\", #{ count: 2 });");
    let job = good(&text);
    assert_eq!(called(&job, 0), "2 × lid stay, right");
    assert_eq!(item(&job.joints[0].inserts[0]), "lid stay, right");
    assert_eq!(job.joints[0].inserts[0].at.len(), 2);
    assert!(job.parts[1].cuts.iter().all(|cut| cut.joint != Some(0)), "it cuts nothing");
    let set = set_out(&request("b.rhai", text), &Choices::default());
    let text_of = |name: &str| {
        let file = set.files.iter().find(|file| file.name == name).unwrap();
        String::from_utf8_lossy(&file.bytes).into_owned()
    };
    let buys = text_of("-buying-list.csv");
    assert!(buys.contains("Inserts and fixings,\"lid stay, right\",,,,2,"), "{buys}");
    let order = text_of("-order.csv");
    assert!(order.lines().last().unwrap().contains("Fit 2 × lid stay, right to Lid"), "{order}");
    // The hinge alone is drawn larger: of a stay only its maker knows how it looks.
    let examined = examine(&request("b.rhai", lid("fitting(lid, \"lid stay, right\");")));
    let (job, worked) = examined.worked.unwrap();
    let look = Choices::default().look(&job);
    let shown: Vec<usize> = joint_details(&job, &worked, &look).into_iter().flat_map(|(_, of)| of).collect();
    assert_eq!(shown, [1]);
}

#[test]
fn fitting_messages() {
    golden(file!(), &[("fitting without a name", problem(&lid("fitting(lid, \" \");")))]);
}
