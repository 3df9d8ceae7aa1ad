//! The words of the ledger: plain types with the names and fields of the API's messages. What a
//! client may set is a `...Input`; the rest is the ledger's.

mod builds;
mod calendars;
mod comparisons;
mod components;
mod duty;
mod evidence;
mod inspections;
mod models;
mod plans;
mod predictions;
mod running_in;
mod status;
mod treatments;
mod units;

pub use builds::{Build, BuildInput, BuildSheetLine};
pub use calendars::{
    Calendar, CalendarCheck, CalendarEvent, CalendarInput, EventRiskCaps, FailureCosts, LimitOwner,
    Opportunity, PartLimit, PartPrice, TeardownLevel,
};
pub use comparisons::{
    Alternative, AlternativeForecast, Basis, BoundedQuantiles, Bounds, CandidateEffect,
    ChangeTarget, CompareRequest, CompareUnitRequest, ComparedTreatment, Comparison,
    ComponentLimit, Difference, Draws, EarliestLimit, EventCost, Odds, Payback, PowerChange,
    RenewalPrice, SeatingTime, TreatmentEvidence, UnitCandidate, UnitChange, UnitComparison,
    UnitComponentLife, UnitEffect, UnitLimit, UnitStep,
};
pub use components::{
    CheckComponentResponse, Component, ComponentFilter, ComponentInput, Installation, Place,
    ResidualStressProfile, Revision, Rework, Spec, SurfaceState,
};
pub use duty::{
    DutyRecord, IntakeFlaw, IntakeReport, Profile, ProfileInput, RecordDuty, RecordDutyResponse,
};
pub use evidence::{
    AgeMeasure, EndCause, Estimate, FittedLives, GroupComparison, GroupSummary, LifeAnalysis,
    LifeCounts, LifeLaw, LifeQuantile, LifeQuery, LifeSource, MeanReplacements, ObservedLife,
    RepairedUnit, ReplacementAnalysis, ReplacementSource, RetireComponent, Retirement,
    SurvivalPoint,
};
pub use inspections::{
    CheckInspectionResponse, Correction, CrackCheck, CrackMethod, CrackResult, ExplainInspection,
    ExplainInspectionResponse, Explanation, ExplanationChange, Inspection, InspectionInput,
    MasterComparison, Material, MeasuredReading, MechanismCorrection, ReadingComparison,
    RecordInspectionResponse, ThermalState,
};
pub use models::{ActivateModelResponse, Model};
pub use plans::{
    FindReplacementAge, MakePlan, Override, OverrideInput, OverrideSubject, Plan, PlanCost,
    PlannedCheck, PlannedEvent, PlannedPart, PlannedReplacement, PlannedTeardown, ReplacementAge,
    ReplacementLives, StandingLimit, Substitution,
};
pub use predictions::{
    Action, Advice, Driver, InstrumentBias, MechanismPrediction, OverrulingFinding, PredictRequest,
    Prediction, Provenance, Quantiles, RateBelief, RateLayer, ReadingAhead, ReadingPrediction,
    RemainingLife, Use,
};
pub use running_in::{
    AirCorrection, AssessPowerFade, AssessSeating, BlowByMeter, BreakInCost, BreakInPull,
    ComponentPowerLoss, FadeComparison, MeasuredFade, PowerFadeAssessment, PowerPull,
    PowerPullUsed, PredictedFade, SeatingAssessment, SeatingDecision, SeatingLeastSquares,
    SeatingPull,
};
pub use status::{LedgerStatus, RebuildProgress};
pub use treatments::{
    AppliedTreatments, CatalogueEntry, Effect, Forbidden, Grade, NotModelled, Operation,
    OrderConflict, Origin, PropertyChange, Stage, Stock, SurfaceChange, Treated, Treatment,
    TreatmentCheck, TreatmentUse,
};
pub use units::{ShockThresholds, Unit, UnitInput, UnitKind};
