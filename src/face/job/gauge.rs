//! The gauge in hand: the one chosen at the step, or the one that was last used for such figures. One that is past its date
//! or was never calibrated is not taken over silently: each session asks for it once.

use crate::domain::entry::Act;
use crate::domain::id::Id;
use crate::domain::instrument::Instrument;
use crate::domain::stamp::Stamp;
use crate::records::store::GaugeChosen;

use super::Job;

impl Job {
    /// The gauge in hand for the present step.
    pub fn gauge(&self) -> Option<&Instrument> {
        let chosen = self.gauges.get(&self.step).and_then(|id| self.inspection.gauge(id));
        chosen.or_else(|| self.last_gauge().filter(|gauge| self.is_taken_over(gauge)))
    }

    /// The gauge last used at this step, or else at a step of the same kind.
    pub fn last_gauge(&self) -> Option<&Instrument> {
        let step = self.step()?;
        let kind = self.grid()?.gauge;
        let used = |same: &dyn Fn(&str) -> bool| {
            self.inspection.standing_entries().rev().find_map(|entry| {
                let Act::Reading { step: at, gauge: Some(gauge), .. } = &entry.act else { return None };
                self.inspection.gauge(gauge).filter(|gauge| same(at) && gauge.kind == kind)
            })
        };
        let chosen = |same: &dyn Fn(&str) -> bool| {
            let mut all = self.gauges.iter().filter(|(at, _)| same(at));
            all.find_map(|(_, id)| self.inspection.gauge(id).filter(|gauge| gauge.kind == kind))
        };
        let here = |at: &str| at == step.id;
        let alike =
            |at: &str| self.inspection.head().checklist.step(at).is_some_and(|other| step.shares_gauge_with(other));
        used(&here).or_else(|| used(&alike)).or_else(|| chosen(&alike))
    }

    /// Whether a gauge used before is in hand without being asked for.
    fn is_taken_over(&self, gauge: &Instrument) -> bool {
        is_fit_on(gauge, self.today) || self.gauges.values().any(|id| *id == gauge.id)
    }

    /// The day on which the record was opened.
    pub fn today(&self) -> Stamp {
        self.today
    }

    /// Takes a gauge in hand at the present step.
    pub fn take_gauge(&mut self, id: Id) {
        self.gauges.insert(self.step.clone(), id);
    }

    /// The gauges chosen, to be kept.
    pub(super) fn gauges_chosen(&self) -> Vec<GaugeChosen> {
        let chosen = |(step, gauge): (&String, &Id)| GaugeChosen { step: step.clone(), gauge: gauge.clone() };
        self.gauges.iter().map(chosen).collect()
    }

    /// Takes over what an earlier session had chosen, where it is fit today.
    pub(super) fn take_over(&mut self, chosen: &[GaugeChosen]) {
        for GaugeChosen { step, gauge } in chosen {
            if self.inspection.gauge(gauge).is_some_and(|known| is_fit_on(known, self.today)) {
                self.gauges.insert(step.clone(), gauge.clone());
            }
        }
    }
}

/// Calibrated, and not past its date.
fn is_fit_on(gauge: &Instrument, today: Stamp) -> bool {
    gauge.calibration(today.date()).is_some() && !gauge.is_past_date(today.date())
}
