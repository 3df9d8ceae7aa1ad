//! Units.

use super::{
    Ledger,
    mask::{Mask, check_etag, check_id, check_labels, check_text},
    profiles::profile_key,
    txn::{Call, Txn},
};
use crate::{
    Change, LedgerError, Page, PageRequest, ProfileName, Unit, UnitInput, UnitKind, UnitName, rows,
    violations::Violations,
};
use ringland_store::Table;

const FIELDS: &[&str] = &[
    "display_name",
    "event_profile",
    "shock_thresholds",
    "labels",
];

impl Ledger {
    /// Creates a unit.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::AlreadyExists`], and the store's.
    pub fn create_unit(
        &self,
        unit_id: &str,
        unit: UnitInput,
        request_id: &str,
    ) -> Result<Unit, LedgerError> {
        check_id("unit_id", unit_id)?;
        check_unit(&unit)?;
        let call = Call::new("create_unit", request_id, &(unit_id, &unit))?;
        let name = UnitName::new(unit_id).map_err(|_| LedgerError::not_found("unit", unit_id))?;
        let (unit, _) = self.change(&call, |txn| {
            expect_profile(txn, unit.event_profile.as_ref())?;
            let unit = unit.clone();
            let now = self.now();
            let unit = Unit {
                name: name.clone(),
                display_name: unit.display_name,
                kind: unit.kind,
                event_profile: unit.event_profile,
                shock_thresholds: unit.shock_thresholds,
                labels: unit.labels,
                create_time: now,
                update_time: now,
                etag: String::new(),
            };
            if txn.read_bytes(Table::Units, unit_id.as_bytes())?.is_some() {
                return Err(LedgerError::exists("unit", &unit.name));
            }
            self.put_unit(txn, unit)
        })?;
        Ok(unit)
    }

    /// Reads a unit.
    ///
    /// # Errors
    /// [`LedgerError::NotFound`], and the store's.
    pub fn get_unit(&self, name: &UnitName) -> Result<Unit, LedgerError> {
        let bytes = self.store.get(Table::Units, name.unit().as_bytes())?;
        let bytes = bytes.ok_or_else(|| LedgerError::not_found("unit", name))?;
        unit_of(&bytes)
    }

    /// Lists units in the order of their names.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`] for a bad page, and the store's.
    pub fn list_units(&self, page: &PageRequest) -> Result<Page<Unit>, LedgerError> {
        self.page_of(page, &["units"], (Table::Units, b""), |_, row| {
            unit_of(row).map(Some)
        })
    }

    /// Changes the fields named in the mask. An `etag` that is given must be the current one.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::NotFound`], [`LedgerError::Aborted`], and
    /// the store's.
    pub fn update_unit(
        &self,
        name: &UnitName,
        unit: UnitInput,
        mask: &[String],
        etag: &str,
    ) -> Result<Unit, LedgerError> {
        let mask = Mask::new(mask, FIELDS)?;
        let call = Call::new("update_unit", "", &())?;
        let (unit, _) = self.change(&call, |txn| {
            let key = name.unit().as_bytes();
            let bytes = txn.read_bytes(Table::Units, key)?;
            let bytes = bytes.ok_or_else(|| LedgerError::not_found("unit", name))?;
            let mut new = unit_of(&bytes)?;
            check_etag(etag, &new.etag)?;
            if mask.has("display_name") {
                new.display_name.clone_from(&unit.display_name);
            }
            if mask.has("event_profile") {
                new.event_profile.clone_from(&unit.event_profile);
            }
            if mask.has("shock_thresholds") {
                new.shock_thresholds = unit.shock_thresholds;
            }
            if mask.has("labels") {
                new.labels.clone_from(&unit.labels);
            }
            check_unit(&UnitInput {
                display_name: new.display_name.clone(),
                kind: new.kind,
                event_profile: new.event_profile.clone(),
                shock_thresholds: new.shock_thresholds,
                labels: new.labels.clone(),
            })?;
            expect_profile(txn, new.event_profile.as_ref())?;
            new.update_time = self.now();
            self.put_unit(txn, new)
        })?;
        if mask.has("event_profile") {
            (self.options.on_change)(Change::Unit(name.clone()));
        }
        Ok(unit)
    }

    fn put_unit(&self, txn: &mut Txn<'_>, mut unit: Unit) -> Result<Unit, LedgerError> {
        unit.etag = String::new();
        self.check_row_size("unit", &unit)?;
        let bytes = rows::encode(&unit)?;
        unit.etag = rows::etag(&bytes);
        txn.put_bytes(Table::Units, unit.name.unit().as_bytes().to_vec(), bytes);
        Ok(unit)
    }
}

/// Requires that a profile exists, now and at commit.
fn expect_profile(txn: &mut Txn<'_>, profile: Option<&ProfileName>) -> Result<(), LedgerError> {
    let Some(profile) = profile else {
        return Ok(());
    };
    let found = txn.read_bytes(Table::Profiles, &profile_key(profile))?;
    found
        .map(|_| ())
        .ok_or_else(|| LedgerError::not_found("profile", profile))
}

fn unit_of(bytes: &[u8]) -> Result<Unit, LedgerError> {
    let unit: Unit = rows::decode(bytes)?;
    Ok(Unit {
        etag: rows::etag(bytes),
        ..unit
    })
}

fn check_unit(unit: &UnitInput) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    if unit.kind == UnitKind::Unspecified {
        let expected = "ENGINE, GEARBOX, FINAL_DRIVE, CLUTCH or DRIVELINE";
        violations.add("unit.kind", "not set", expected, "say what the unit is");
    }
    check_text(
        &mut violations,
        "unit.display_name",
        &unit.display_name,
        255,
    );
    check_labels(&mut violations, &unit.labels);
    let thresholds = &unit.shock_thresholds;
    // The plausible range of the channel that each is compared with.
    for (field, value, low, high) in [
        (
            "over_rev_engine_speed_rad_s",
            thresholds.over_rev_engine_speed_rad_s,
            0.0,
            2500.0,
        ),
        (
            "oil_pressure_dip_pa",
            thresholds.oil_pressure_dip_pa,
            -1e5,
            2e6,
        ),
        (
            "oil_pressure_dip_above_engine_speed_rad_s",
            thresholds.oil_pressure_dip_above_engine_speed_rad_s,
            0.0,
            2500.0,
        ),
        (
            "oil_overheat_temp_k",
            thresholds.oil_overheat_temp_k,
            230.0,
            470.0,
        ),
    ] {
        if let Some(value) = value.filter(|value| !(low..=high).contains(value)) {
            let field = format!("unit.shock_thresholds.{field}");
            let expected = format!("{low} to {high}");
            violations.add(field, value, &expected, "check the unit: it is SI");
        }
    }
    violations.into_result()
}
