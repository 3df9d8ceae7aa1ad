//! A specimen with its map.

use std::marker::PhantomData;
use std::ops::Range;

use proptest::prelude::*;
use ringland_plugin::{Duty, Finding, ForecastRequest, LifeForecast, Model, Rate, Specimen};

/// A specimen with its map: everything a test asks of a model, with the model's refusal as a panic.
pub struct Prepared<M> {
    /// The specimen.
    pub specimen: Specimen,
    /// What `prepare` made of it.
    pub map: Vec<f64>,
    /// Horizon of the forecasts \[events\].
    pub horizon_events: f64,
    /// When forecasts give readings \[events from now\].
    pub ahead_events: Vec<f64>,
    model: PhantomData<fn() -> M>,
}

impl<M: Model> Prepared<M> {
    /// Prepares a specimen. Forecasts have a horizon of 1000 events and readings 0, 1, 3 and 6 events ahead.
    #[track_caller]
    pub fn new(specimen: Specimen) -> Self {
        let map = M::prepare(specimen.clone()).unwrap();
        Self {
            specimen,
            map,
            horizon_events: 1000.0,
            ahead_events: vec![0.0, 1.0, 3.0, 6.0],
            model: PhantomData,
        }
    }

    /// The card's default specimen.
    #[track_caller]
    pub fn default_spec() -> Self {
        Self::new(ringland_plugin::default_specimen(&M::card()))
    }

    /// The same with another horizon \[events\].
    #[must_use]
    pub fn within(mut self, horizon_events: f64) -> Self {
        self.horizon_events = horizon_events;
        self
    }

    /// The same with readings asked for at other times \[events from now\].
    #[must_use]
    pub fn ahead(mut self, ahead_events: &[f64]) -> Self {
        self.ahead_events = ahead_events.to_vec();
        self
    }

    /// Another specimen on this map, for changes that the map does not depend on.
    #[must_use]
    pub fn with(&self, specimen: Specimen) -> Self {
        Self {
            specimen,
            map: self.map.clone(),
            horizon_events: self.horizon_events,
            ahead_events: self.ahead_events.clone(),
            model: PhantomData,
        }
    }

    /// Condition of a new component.
    #[track_caller]
    pub fn begin(&self) -> Vec<f64> {
        self.begin_with(&[])
    }

    /// Condition of a used component of which some slots are known, by name.
    #[track_caller]
    pub fn begin_with(&self, known: &[(&str, f64)]) -> Vec<f64> {
        let card = M::card();
        let mut opening = vec![None; card.condition.len()];
        for (slot, value) in known {
            opening[card.slot_index(slot).expect(slot)] = Some(*value);
        }
        M::begin(self.specimen.clone(), self.map.clone(), opening).unwrap()
    }

    /// Any condition of a used component: some slots within ranges, the rest as begun.
    pub fn any_used(&self, slots: &[(&str, Range<f64>)]) -> BoxedStrategy<Vec<f64>> {
        let card = M::card();
        let index = |(slot, _): &(&str, _)| card.slot_index(slot).expect(slot);
        let indices: Vec<usize> = slots.iter().map(index).collect();
        let ranges: Vec<Range<f64>> = slots.iter().map(|(_, range)| range.clone()).collect();
        let new = self.begin();
        let used = move |values: Vec<f64>| {
            let mut condition = new.clone();
            for (index, value) in indices.iter().zip(values) {
                condition[*index] = value;
            }
            condition
        };
        ranges.prop_map(used).boxed()
    }

    /// Condition after each of some records.
    #[track_caller]
    pub fn advance(&self, condition: &[f64], duties: &[Duty]) -> Vec<Vec<f64>> {
        self.try_advance(condition, duties).unwrap()
    }

    /// As [`Self::advance`], with the model's refusal.
    ///
    /// # Errors
    /// What the model refuses.
    pub fn try_advance(
        &self,
        condition: &[f64],
        duties: &[Duty],
    ) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
        let (specimen, map) = (self.specimen.clone(), self.map.clone());
        M::advance(specimen, map, condition.to_vec(), duties.to_vec())
    }

    /// A condition after one more record.
    #[track_caller]
    pub fn then(&self, condition: &[f64], duty: &Duty) -> Vec<f64> {
        self.repeated(condition, duty, 1)
    }

    /// A condition after a record `times` over, 1 or more.
    #[track_caller]
    pub fn repeated(&self, condition: &[f64], duty: &Duty, times: usize) -> Vec<f64> {
        let rows = self.advance(condition, &vec![duty.clone(); times]);
        rows.into_iter().next_back().expect("at least one record")
    }

    /// Condition of a new component after one record.
    #[track_caller]
    pub fn after(&self, duty: &Duty) -> Vec<f64> {
        self.then(&self.begin(), duty)
    }

    /// Conditions of an ageing component: new, then each `events` events further on, `count` in all.
    #[track_caller]
    pub fn ageing(&self, event: &Duty, events: usize, count: usize) -> Vec<Vec<f64>> {
        let mut conditions = vec![self.begin()];
        while let Some(last) = conditions.last().filter(|_| conditions.len() < count) {
            conditions.push(self.repeated(last, event, events));
        }
        conditions
    }

    /// Condition after a shop operation, by name.
    #[track_caller]
    pub fn rework(&self, condition: &[f64], operation: &str) -> Vec<f64> {
        self.try_rework(condition, operation).unwrap()
    }

    /// As [`Self::rework`], with the model's refusal.
    ///
    /// # Errors
    /// What the model refuses.
    pub fn try_rework(&self, condition: &[f64], operation: &str) -> Result<Vec<f64>, Vec<Finding>> {
        let index = M::card().operation_index(operation).expect(operation) as u32;
        let (specimen, map) = (self.specimen.clone(), self.map.clone());
        M::rework(specimen, map, condition.to_vec(), index)
    }

    /// A request: 512 draws, seed 1, rates as the card has them before any inspection.
    pub fn request(&self, condition: &[f64], event: &Duty) -> ForecastRequest {
        let rate = |mechanism: ringland_plugin::Mechanism| Rate {
            ln_mean: 0.0,
            ln_sd: mechanism.rate_ln_sd,
        };
        ForecastRequest {
            condition: condition.to_vec(),
            event: event.clone(),
            rates: M::card().mechanisms.into_iter().map(rate).collect(),
            samples: 512,
            seed: 1,
            horizon_events: self.horizon_events,
            ahead_events: self.ahead_events.clone(),
        }
    }

    /// The answer to a request.
    #[track_caller]
    pub fn asked(&self, request: ForecastRequest) -> LifeForecast {
        self.try_asked(request).unwrap()
    }

    /// As [`Self::asked`], with the model's refusal.
    ///
    /// # Errors
    /// What the model refuses.
    pub fn try_asked(&self, request: ForecastRequest) -> Result<LifeForecast, Vec<Finding>> {
        M::forecast(self.specimen.clone(), self.map.clone(), request)
    }

    /// The answer to [`Self::request`].
    #[track_caller]
    pub fn forecast(&self, condition: &[f64], event: &Duty) -> LifeForecast {
        self.asked(self.request(condition, event))
    }
}
