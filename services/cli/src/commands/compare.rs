//! `ringland compare`.

use super::{Session, alternative::Given};
use crate::{CliError, json, names, out::waiting, show::comparison};
use clap::Args;
use ringland_proto::v1::{Alternative, CompareRequest, ComparisonBasis, RenewalPrice};

/// `ringland compare`
#[derive(Debug, Args)]
pub struct CompareArgs {
    /// Which component
    component: String,
    /// An alternative: treatments of the catalogue in their order, joined by + (plateau-hone+superfinish), or a TOML
    /// file with label, [spec.numbers], [surfaces.NAME.properties] and [[treatments]] that differ (a file of a
    /// component does too); may be given up to seven times
    #[arg(long = "with", required = true, value_name = "TREATMENTS|FILE.toml")]
    with: Vec<Given>,
    /// What they are held against, given alike [default: the component as it is]
    #[arg(long, value_name = "TREATMENTS|FILE.toml")]
    against: Option<Given>,
    /// Price of the part, untreated, in the shop's currency
    #[arg(long, value_name = "AMOUNT")]
    part_price: Option<f64>,
    /// Price of the labour of a renewal
    #[arg(long, value_name = "AMOUNT")]
    labour_price: Option<f64>,
    /// Price of a treatment where it is not the catalogue's: plateau-hone=180; may be given several times
    #[arg(long = "treatment-price", value_name = "TREATMENT=AMOUNT", value_parser = price)]
    treatment_prices: Vec<(String, f64)>,
    /// Readings at these numbers of events ahead [default: 1,2,4,8,16]
    #[arg(long, value_delimiter = ',', value_name = "EVENTS")]
    ahead: Vec<f64>,
    #[command(flatten)]
    drawn: DrawnAs,
    /// Besides the usual: every mechanism, readings without a limit, what the model leaves out
    #[arg(long)]
    full: bool,
}

/// Over which events and from what a comparison is drawn.
#[derive(Debug, Args)]
pub(super) struct DrawnAs {
    /// Profile of each event [default: the unit's]
    #[arg(
        long,
        default_value = "",
        hide_default_value = true,
        value_name = "PROFILE"
    )]
    pub(super) profile: String,
    /// From what is there now, not from new parts: wear and damage stay
    #[arg(long)]
    present: bool,
    /// Longest life of interest, 1 to 10000 events; a life beyond it is known as "at least" [default: the ledger's]
    #[arg(long, value_name = "EVENTS")]
    pub(super) horizon: Option<f64>,
    /// Lives drawn of each, 64 to 4096 [default: the ledger's]
    #[arg(
        long,
        default_value_t = 0,
        hide_default_value = true,
        value_name = "COUNT"
    )]
    pub(super) samples: i32,
}

impl DrawnAs {
    pub(super) fn basis(&self) -> ComparisonBasis {
        if self.present {
            ComparisonBasis::Present
        } else {
            ComparisonBasis::New
        }
    }
}

fn price(text: &str) -> Result<(String, f64), String> {
    let (treatment, amount) = super::labels::read(text)
        .map_err(|_| format!("{text:?}: expected TREATMENT=AMOUNT, such as plateau-hone=180"))?;
    let amount = amount
        .parse()
        .map_err(|_| format!("{amount:?} is not a number"))?;
    Ok((treatment, amount))
}

pub(super) async fn run(arguments: CompareArgs, session: &Session) -> Result<(), CliError> {
    let full = arguments.full;
    let request = request(arguments)?;
    let spinner = waiting("solving each alternative");
    let answer = session.api.comparisons().compare(request).await;
    spinner.finish_and_clear();
    let answer = answer?.into_inner();
    let out = session.out;
    if out.json {
        return out.json(&json::to_json("Comparison", &answer)?);
    }
    out.text(&comparison(&answer, &out.look, full))
}

fn request(arguments: CompareArgs) -> Result<CompareRequest, CliError> {
    let mut alternatives = vec![match arguments.against {
        Some(given) => given.read()?,
        None => Alternative::default(),
    }];
    for given in arguments.with {
        alternatives.push(given.read()?);
    }
    for (id, price) in &arguments.treatment_prices {
        let all = alternatives.iter_mut().flat_map(|a| &mut a.treatments);
        let mut found = all.filter(|t| t.treatment == *id).peekable();
        if found.peek().is_none() {
            let text = format!("--treatment-price {id}: no alternative has this treatment");
            return Err(CliError::Usage(text));
        }
        found.for_each(|treatment| treatment.price = Some(*price));
    }
    let given = arguments.part_price.or(arguments.labour_price);
    Ok(CompareRequest {
        component: names::component(&arguments.component),
        profile: names::profile(&arguments.drawn.profile),
        alternatives,
        basis: arguments.drawn.basis().into(),
        ahead_events: arguments.ahead,
        horizon_events: arguments.drawn.horizon,
        samples: arguments.drawn.samples,
        price: given.map(|_| RenewalPrice {
            part: arguments.part_price.unwrap_or_default(),
            labour: arguments.labour_price.unwrap_or_default(),
        }),
    })
}
