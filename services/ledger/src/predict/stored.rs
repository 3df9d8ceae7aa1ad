//! Predictions as they are kept: each once, by what it was made from, newest first, a bounded number for
//! each component.

use crate::{
    ComponentName, LedgerError, Page, PageRequest, Prediction, PredictionName, keys,
    ledger::{Ledger, txn::Call},
    rows,
};
use ringland_host::contract::Digest;
use ringland_store::Table;
use serde::{Deserialize, Serialize};

/// A stored prediction and what it was made from.
#[derive(Serialize, Deserialize)]
struct Row {
    made_from: Digest,
    prediction: Prediction,
}

/// The numbers in use: from `oldest` up to just before `next`.
#[derive(Clone, Copy, Serialize, Deserialize)]
struct Counter {
    oldest: u64,
    next: u64,
}

impl Default for Counter {
    fn default() -> Self {
        Self { oldest: 1, next: 1 }
    }
}

fn counter_key(component: &ComponentName) -> Vec<u8> {
    keys::with(&["n"], component.component().as_bytes())
}

fn row_prefix(component: &ComponentName) -> Vec<u8> {
    keys::prefix(&["p", component.component()])
}

/// Numbers upside down, so that the newest comes first.
fn row_key(component: &ComponentName, number: u64) -> Vec<u8> {
    keys::with(&["p", component.component()], &(!number).to_be_bytes())
}

fn made_from_key(component: &ComponentName, made_from: Digest) -> Vec<u8> {
    keys::with(&["d", component.component()], &made_from.0)
}

fn name_of(component: &ComponentName, number: u64) -> Result<PredictionName, LedgerError> {
    PredictionName::new(component.component(), &number.to_string()).map_err(|error| {
        LedgerError::Internal {
            message: error.to_string(),
        }
    })
}

impl Ledger {
    /// Reads a stored prediction.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`] when there is none, or it was one of the oldest and has made room,
    /// and the store's.
    pub fn get_prediction(&self, name: &PredictionName) -> Result<Prediction, LedgerError> {
        let missing = || LedgerError::not_found("prediction", name);
        let number: u64 = name.prediction().parse().map_err(|_| missing())?;
        if name_of(&name.parent(), number)? != *name {
            return Err(missing());
        }
        let bytes = self
            .store
            .get(Table::Predictions, &row_key(&name.parent(), number))?;
        Ok(rows::decode::<Row>(&bytes.ok_or_else(missing)?)?.prediction)
    }

    /// Lists a component's stored predictions, newest first.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, [`LedgerError::NotFound`], and the store's.
    pub fn list_predictions(
        &self,
        component: &ComponentName,
        page: &PageRequest,
    ) -> Result<Page<Prediction>, LedgerError> {
        self.component_row(component)?;
        let query = ["predictions", component.component()];
        self.page_of(
            page,
            &query,
            (Table::Predictions, &row_prefix(component)),
            |_, bytes| rows::decode::<Row>(bytes).map(|row| Some(row.prediction)),
        )
    }

    /// The prediction that was made from exactly this, if it is kept.
    pub(crate) fn known_prediction(
        &self,
        component: &ComponentName,
        made_from: Digest,
    ) -> Result<Option<Prediction>, LedgerError> {
        let number = self
            .store
            .get(Table::Predictions, &made_from_key(component, made_from))?;
        let Some(number) = number.and_then(|bytes| bytes.try_into().ok()) else {
            return Ok(None);
        };
        let key = row_key(component, u64::from_be_bytes(number));
        let bytes = self.store.get(Table::Predictions, &key)?;
        Ok(bytes
            .as_deref()
            .map(rows::decode::<Row>)
            .transpose()?
            .map(|row| row.prediction))
    }

    /// Keeps a prediction and lets the oldest go where there are too many.
    pub(crate) fn keep_prediction(
        &self,
        made_from: Digest,
        prediction: &Prediction,
    ) -> Result<Prediction, LedgerError> {
        let component = prediction.component.clone();
        let most = u64::from(self.options.max_predictions_per_component.max(1));
        let call = Call::new("keep_prediction", "", &())?;
        let (kept, _) = self.change(&call, |txn| {
            let key = counter_key(&component);
            let mut counter: Counter = txn.read(Table::Predictions, &key)?.unwrap_or_default();
            // Another thread may have made the same prediction meanwhile.
            if let Some(known) = self.known_prediction(&component, made_from)? {
                return Ok(known);
            }
            let mut prediction = prediction.clone();
            prediction.name = name_of(&component, counter.next)?;
            let number = counter.next.to_be_bytes().to_vec();
            txn.put_bytes(
                Table::Predictions,
                made_from_key(&component, made_from),
                number,
            );
            let row = Row {
                made_from,
                prediction,
            };
            txn.put(Table::Predictions, row_key(&component, counter.next), &row)?;
            counter.next += 1;
            // Two at a time, so that a smaller limit is reached in time and no commit is long.
            for _ in 0..2 {
                if counter.next - counter.oldest > most {
                    self.let_go(txn, &component, counter.oldest)?;
                    counter.oldest += 1;
                }
            }
            txn.put(Table::Predictions, key, &counter)?;
            Ok(row.prediction)
        })?;
        Ok(kept)
    }

    fn let_go(
        &self,
        txn: &mut crate::ledger::txn::Txn<'_>,
        component: &ComponentName,
        number: u64,
    ) -> Result<(), LedgerError> {
        let key = row_key(component, number);
        if let Some(bytes) = self.store.get(Table::Predictions, &key)? {
            let row: Row = rows::decode(&bytes)?;
            txn.delete(Table::Predictions, made_from_key(component, row.made_from));
            txn.delete(Table::Predictions, key);
        }
        Ok(())
    }

    /// Drops all predictions of a component. Their numbers are not used again.
    pub(crate) fn drop_predictions(&self, component: &ComponentName) -> Result<(), LedgerError> {
        self.drop_rows(
            Table::Predictions,
            &keys::prefix(&["d", component.component()]),
        )?;
        self.drop_rows(Table::Predictions, &row_prefix(component))?;
        let call = Call::new("drop_predictions", "", &())?;
        self.change(&call, |txn| {
            let key = counter_key(component);
            if let Some(counter) = txn.read::<Counter>(Table::Predictions, &key)? {
                txn.put(
                    Table::Predictions,
                    key,
                    &Counter {
                        oldest: counter.next,
                        ..counter
                    },
                )?;
            }
            Ok(())
        })?;
        Ok(())
    }
}

/// How many predictions a stored counter stands for.
pub(crate) fn stored_predictions(counter: &[u8]) -> Result<u64, LedgerError> {
    let counter: Counter = rows::decode(counter)?;
    Ok(counter.next - counter.oldest)
}
