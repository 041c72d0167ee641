//! Scripts become jobs.

use std::sync::Arc;

use rodwright::model::Side;
use rodwright::problem::render_all;
use rodwright::script::{Evaluated, Limits, NoModules, Request, evaluate};

use crate::support::words::WORDS;

/// A request for a script that stands alone.
fn request(name: &str, text: &str, settings: &[(&str, &str)]) -> Request {
    Request {
        name: name.into(),
        text: text.into(),
        settings: settings.iter().map(|(n, v)| ((*n).into(), (*v).into())).collect(),
        loader: Arc::new(NoModules),
        words: WORDS,
        limits: Limits::default(),
    }
}

/// The job of one of the scripts of the project, which must have no problem.
fn script(name: &str, settings: &[(&str, &str)]) -> Evaluated {
    let text = std::fs::read_to_string(format!("scripts/{name}.rhai")).unwrap();
    let evaluated = evaluate(&request(name, &text, settings));
    assert_eq!(render_all(&evaluated.problems, &evaluated.sources), "", "{name}");
    evaluated
}

#[test]
fn the_cabinet_is_a_job() {
    let job = script("periodicals_cabinet", &[("width", "1100")]).job.unwrap();
    assert_eq!(job.head.title, "Periodicals cabinet");
    assert_eq!(job.parts.len(), 7);
    assert_eq!(job.works.len(), 2 + 6 + 4 + 1);
    assert_eq!(job.sizes.len(), 7);
    let top = &job.parts[0];
    // Set to 1100: 1100 along the grain, 300 deep, 18 thick; inside face down.
    assert_eq!(top.size.to_array(), [1100.0, 300.0, 18.0]);
    assert_eq!((top.face, top.edge), (Side::Bottom, Side::Front));
    let shelf = &job.parts[5];
    // From the left side's inside (18) to the divider's left face (540 - 9).
    assert_eq!(shelf.size.to_array(), [513.0, 276.0, 18.0]);
    assert_eq!((shelf.face, shelf.edge), (Side::Top, Side::Front));
}

#[test]
fn the_bookcase_and_the_frame_are_jobs() {
    let bookcase = script("low_bookcase", &[("inches", "yes"), ("shelves", "3")]).job.unwrap();
    assert_eq!(bookcase.parts.len(), 2 + 5 + 1 + 1);
    assert!((bookcase.parts[0].size.z - 19.05).abs() < 1e-9);
    let frame = script("notice_frame", &[]).job.unwrap();
    assert_eq!(frame.parts.len(), 6);
    let rebate = frame.works.last().unwrap();
    assert!(rebate.after_glue_up);
    assert_eq!(rebate.parts[0].len(), 2);
    assert_eq!(script("notice_frame", &[("glass", "no")]).job.unwrap().parts.len(), 5);
}
