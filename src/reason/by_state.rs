//! Values that follow the state of the part: a curve can be off when it is hot and good when it is cold.
//!
//! In: what each observation leaves alone. Out: the same, with such values standing where all of it together lets them;
//! and at which probes they may read either way. Never: other rows.

use super::evidence::Observation;
use super::set::Set;
use super::signature::Signatures;

impl Signatures {
    /// Lets a value that follows the state stand where it is off by all that was read in a state or good by all of it, in
    /// every state; and off in one of them, or in one that was not read.
    pub(super) fn spare_by_state(&self, observations: &[Observation], each: &mut [Set]) {
        let stands = |row: &usize| self.stands_by_state(*row, observations, each);
        let spared: Vec<usize> = (0..self.rows.len()).filter(stands).collect();
        for set in each {
            spared.iter().for_each(|row| set.insert(*row));
        }
    }

    fn stands_by_state(&self, row: usize, observations: &[Observation], each: &[Set]) -> bool {
        let Some(good) = self.good_of(row) else {
            return false;
        };
        // Where nothing was read, anything fits.
        let fits = |wanted: usize, probe: usize| {
            let read = observations.iter().zip(each);
            let mut read = read.filter(|(one, _)| self.in_one_state(one.probe, probe));
            read.all(|(_, set)| set.contains(wanted))
        };
        let either = |one: &Observation| fits(row, one.probe) || fits(good, one.probe);
        let off = |probe: usize| self.could_show(row, probe) && fits(row, probe);
        observations.iter().all(either) && (0..self.probes.len()).any(off)
    }

    /// Whether a row may read there as it is named or as a good circuit: such a value, in a state in which it has not read
    /// off, once some reading told it from a good one.
    pub(super) fn is_loose(&self, row: usize, probe: usize, observations: &[Observation]) -> bool {
        self.good_of(row).is_some_and(|good| {
            let fits = |one: &Observation| (self.fits(row, one), self.fits(good, one));
            let off = |one: &Observation| {
                self.in_one_state(one.probe, probe) && fits(one) == (true, false)
            };
            observations.iter().map(fits).any(|(off, good)| off != good)
                && !observations.iter().any(off)
        })
    }

    /// The good circuit to a value that follows the state; none to other rows.
    fn good_of(&self, row: usize) -> Option<usize> {
        let own = &self.rows[row];
        self.good_in(own.variant).filter(|_| own.by_state)
    }

    fn in_one_state(&self, a: usize, b: usize) -> bool {
        let state = |probe: usize| Some(&self.probes.get(probe)?.hookup.setting);
        state(a) == state(b)
    }
}
