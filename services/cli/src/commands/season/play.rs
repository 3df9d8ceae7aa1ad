//! Plays the season in the order of time and asks after each event what was planted in it.

use super::{checks, judge::Outcome, stand::Stand};
use crate::{
    CliError,
    commands::{
        Session,
        demo::{
            calendar::Calendar,
            failed,
            logs::Desk,
            parts::Part,
            served::Folder,
            shop::{Workshop, plan_events},
        },
    },
    demo::planted,
    out::progress,
};

/// The season as it went.
pub(super) struct Played<'a> {
    pub(super) stand: Stand<'a>,
    pub(super) outcomes: Vec<Outcome>,
}

impl Played<'_> {
    /// How many statements there are.
    pub(super) fn statements(&self) -> usize {
        self.outcomes.iter().map(|one| one.verdicts.len()).sum()
    }

    /// How many of them differ.
    pub(super) fn differ(&self) -> usize {
        let verdicts = self.outcomes.iter().flat_map(|one| &one.verdicts);
        verdicts.filter(|verdict| !verdict.same).count()
    }
}

/// Assembles, runs, measures, asks, works, tears down, event by event.
pub(super) async fn play<'a>(
    calendar: &'a Calendar,
    parts: &'a [Part],
    folder: &Folder,
    session: &'a Session,
) -> Result<Played<'a>, CliError> {
    let planted = planted().map_err(failed)?;
    let season = &calendar.season;
    let mut shop = Workshop::open(calendar, parts, session).await?;
    let desk = Desk::open(calendar, folder)?;
    let mut stand = Stand::new(calendar, session);
    let mut outcomes = Vec::with_capacity(planted.len());
    let bar = progress(season.events.len() as u64, "playing the season");
    for (index, event) in season.events.iter().enumerate() {
        let here = |code: &String| *code == event.code;
        for build in season.builds.iter().filter(|build| here(&build.from)) {
            shop.assemble(build).await?;
        }
        for log in calendar.logs.iter().filter(|log| here(&log.plan.event)) {
            stand.records.push(desk.record(log, session).await?);
        }
        stand.ran(event, season.events.get(index + 1)).await?;
        for decision in season.decisions.iter().filter(|one| here(&one.event)) {
            stand.decide(decision).await?;
        }
        for inspection in season.inspections.iter().filter(|one| here(&one.event)) {
            stand.enter(inspection).await?;
        }
        for work in season.work.iter().filter(|work| here(&work.event)) {
            shop.work(work).await?;
            stand.done.push(work);
        }
        for one in planted.iter().filter(|one| here(&one.event)) {
            let answers = checks::answers(&one.id, &stand).await;
            outcomes.push(Outcome::of(one, answers));
        }
        stand.ready().await?;
        for build in season.builds.iter().filter(|build| here(&build.until)) {
            shop.tear_down(build).await?;
        }
        bar.inc(1);
    }
    bar.finish_and_clear();
    plan_events(&stand.records, calendar, session).await?;
    Ok(Played { stand, outcomes })
}
