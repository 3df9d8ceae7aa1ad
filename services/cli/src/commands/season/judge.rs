//! What was stated beside what is said.

use crate::{
    CliError,
    demo::{Planted, Statement},
};

/// What is said of one statement.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    statement: &'static str,
    said: String,
    figure: Option<f64>,
    holds: bool,
    why: String,
}

impl Answer {
    /// A figure to be held against the stated one, in its unit.
    pub(super) fn figure(statement: &'static str, figure: f64, said: impl Into<String>) -> Self {
        Self {
            statement,
            said: said.into(),
            figure: Some(figure),
            holds: true,
            why: String::new(),
        }
    }

    /// A principle that holds or does not.
    pub(super) fn principle(statement: &'static str, holds: bool, said: impl Into<String>) -> Self {
        Self {
            statement,
            said: said.into(),
            figure: None,
            holds,
            why: String::new(),
        }
    }

    /// Why it differs, if it does and that is known.
    pub(super) fn where_it_differs(self, why: impl Into<String>) -> Self {
        Self {
            why: why.into(),
            ..self
        }
    }
}

/// A statement and what is said of it.
#[derive(Clone, Debug)]
pub(super) struct Verdict {
    pub(super) statement: Statement,
    pub(super) said: String,
    /// In the unit of the statement's figure.
    pub(super) figure: Option<f64>,
    pub(super) same: bool,
    /// Why it differs, where that is known.
    pub(super) why: String,
}

/// What is planted and what is said of it.
#[derive(Clone, Debug)]
pub(super) struct Outcome {
    pub(super) planted: Planted,
    pub(super) verdicts: Vec<Verdict>,
}

impl Outcome {
    /// Holds every statement against its answer. What could not be asked differs.
    pub(super) fn of(planted: &Planted, answers: Result<Vec<Answer>, CliError>) -> Self {
        let (answers, failure) = match answers {
            Ok(answers) => (answers, "nothing is said of it".to_owned()),
            Err(error) => (Vec::new(), format!("it could not be asked: {error}")),
        };
        let verdict = |statement: &Statement| {
            let answer = answers.iter().find(|one| one.statement == statement.id);
            match answer {
                Some(answer) => judged(statement, answer),
                None => Verdict {
                    statement: statement.clone(),
                    said: failure.clone(),
                    figure: None,
                    same: false,
                    why: String::new(),
                },
            }
        };
        Self {
            planted: planted.clone(),
            verdicts: planted.statements.iter().map(verdict).collect(),
        }
    }
}

fn judged(statement: &Statement, answer: &Answer) -> Verdict {
    let same = match &statement.figure {
        Some(stated) => answer.figure.is_some_and(|figure| stated.is_met_by(figure)),
        None => answer.holds,
    };
    Verdict {
        statement: statement.clone(),
        said: answer.said.clone(),
        figure: answer.figure,
        same,
        why: if same {
            String::new()
        } else {
            answer.why.clone()
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::{Figure, Tolerance};

    fn planted() -> Planted {
        let statement = |id: &str, figure| Statement {
            id: id.into(),
            says: id.into(),
            figure,
        };
        let figure = Figure {
            value: 2.0,
            unit: "um".into(),
            tolerance: Tolerance::Within(0.5),
        };
        Planted {
            id: "x".into(),
            event: "r1".into(),
            place: "engine".into(),
            happened: "it happened".into(),
            statements: vec![
                statement("figure", Some(figure)),
                statement("principle", None),
            ],
        }
    }

    #[test]
    fn a_figure_and_a_principle_are_held_apart() {
        let same = |figure: f64, holds| {
            let answers = vec![
                Answer::figure("figure", figure, "").where_it_differs("a reason"),
                Answer::principle("principle", holds, ""),
            ];
            let outcome = Outcome::of(&planted(), Ok(answers));
            let verdicts = outcome.verdicts.iter();
            assert!(
                verdicts
                    .clone()
                    .all(|v| v.same != (v.why == "a reason") || v.figure.is_none())
            );
            verdicts.map(|v| v.same).collect::<Vec<_>>()
        };
        assert_eq!(same(2.4, true), [true, true]);
        assert_eq!(same(2.6, true), [false, true]);
        assert_eq!(same(2.0, false), [true, false]);
    }

    #[test]
    fn what_is_not_answered_or_cannot_be_asked_differs() {
        let outcome = Outcome::of(&planted(), Ok(Vec::new()));
        assert!(outcome.verdicts.iter().all(|v| !v.same));
        let outcome = Outcome::of(&planted(), Err(CliError::Failed("no plugin".into())));
        assert!(
            outcome
                .verdicts
                .iter()
                .all(|v| !v.same && v.said.contains("no plugin"))
        );
        // A principle does not stand in for a figure.
        let answers = vec![Answer::principle("figure", true, "")];
        assert!(!Outcome::of(&planted(), Ok(answers)).verdicts[0].same);
    }
}
