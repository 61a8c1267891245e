//! What the integer program says of the unbeaten sets.

use super::page::View;
use crate::base::{plain, thousands};
use crate::cli::exit::Failure;
use crate::cli::screen::paragraph;
use crate::export::Answer;
use crate::problem::Problem;
use crate::search::{Certificate, Objection};
use crate::train::{ModuleId, Set, pairs_of};
use std::fmt::Write;

/// The block below the lists; nothing where nobody asked.
pub(super) fn block(answer: &Answer<'_>, view: &View<'_>, width: usize) -> String {
    if !view.args.certify {
        return String::new();
    }
    let text = answer.certificate.as_ref().map_or_else(
        || "Not certified: the search was stopped, and half a list has no proof.".to_owned(),
        |certificate| said(certificate, view.interrupted),
    );
    format!("\n{}", paragraph(&text, 2, width))
}

fn said(certificate: &Certificate, interrupted: bool) -> String {
    let number = |n: u64| thousands(&n.to_string());
    let all = certificate.claims();
    let claims = format!(
        "{} {}, {} by bounds, {} by integer programs",
        number(all),
        if all == 1 { "claim" } else { "claims" },
        number(certificate.by_bounds),
        number(certificate.by_programs)
    );
    match (certificate.open, interrupted) {
        (0, _) => format!("Certified by other means than the search: {claims}, none open."),
        (open, true) => format!(
            "Not certified, you stopped it: {claims}, {} still open.",
            number(open)
        ),
        (open, false) => format!(
            "Not certified in full: {claims}, {} still open. A longer --time-limit may settle them.",
            number(open)
        ),
    }
}

/// A front that the program refutes must not be printed.
pub(super) fn refuse_refuted(
    problem: &Problem,
    certificate: Option<&Certificate>,
) -> Result<(), Failure> {
    let Some(objection) = certificate.and_then(|c| c.objection.as_ref()) else {
        return Ok(());
    };
    let (what, set) = match objection {
        Objection::NotASet(set) => ("a set of the list does not fit the problem", set),
        Objection::Beaten(set) => ("a set of the list is no better than another", set),
        Objection::Missing(set) => ("a set that nothing in the list matches is missing", set),
    };
    Err(Failure::Failed(format!(
        "the list of unbeaten sets is refuted and nothing is printed: {what}\n  {}\n\
         This is a fault of the program, not of the problem file: please report it.",
        spelled(problem, set)
    )))
}

/// Every gear of a set in one line.
fn spelled(problem: &Problem, set: &Set) -> String {
    let module = |id: ModuleId| plain(id.of(problem).mm(), 4);
    let mut text = format!("centres {} mm", plain(set.centre_distance.mm(), 3));
    for (role, pair) in pairs_of(problem, set) {
        let (driver, driven) = (pair.driver.get(), pair.driven.get());
        let _ = write!(
            text,
            ", {} {driver}>{driven} module {} mm",
            role.name(problem),
            module(pair.module)
        );
    }
    if let Some(r) = set.reverse {
        let [driver, idler, driven] = [r.driver, r.idler, r.driven].map(crate::base::Teeth::get);
        let _ = write!(
            text,
            ", reverse {driver}>{idler}>{driven} module {} mm",
            module(r.module)
        );
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::search::{Control, Request, certify, solve};

    #[test]
    fn a_spoiled_front_is_not_printed_and_the_set_is_named() {
        let text = include_str!("../../../problems/shunter.json");
        let problem = crate::problem::parse("shunter", text).unwrap();
        let request = Request {
            top: 0,
            trains: 0,
            threads: 1,
        };
        let control = Control::default();
        let mut front = solve(&problem, request, &control).front;
        let whole = certify(&problem, &front, &control);
        assert!(refuse_refuted(&problem, Some(&whole)).is_ok());
        let dropped = front.remove(3);
        let spoiled = certify(&problem, &front, &control);
        let failure = refuse_refuted(&problem, Some(&spoiled)).unwrap_err();
        assert_eq!(failure.exit().code(), 3);
        assert!(failure.text().contains("centres ") && failure.text().contains("reverse "));
        front.insert(0, dropped.clone());
        front.push(dropped);
        let twice = certify(&problem, &front, &control);
        let failure = refuse_refuted(&problem, Some(&twice)).unwrap_err();
        assert!(failure.text().contains("no better than another"));
    }
}
