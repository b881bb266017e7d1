/** Server checks, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_CHECKS: Catalog = {
  // server/session/advice.ts
  'Much of the interval comes from {0}: {1}.': '',
  '{0}’s {1}': '',
  'the probes’ own errors': '',
  'check the probes side by side': '',
  'air that differs from spot to spot': '',
  'hang more probes along the {0}': '',
  'walk the {0}, or hang more probes along it': '',
  'the airflow': '',
  'traverse it again with more points': '',
  'measure the outlet by a traverse': '',
  'the pressure': '',
  'enter what a barometer reads': '',
  // server/session/check.ts
  '{0} differs from the others by more than their accuracies explain.': '',
  '{0} differ by more than their accuracies explain.': '',
  'The two': '',
  'The check was too short. Nothing was corrected.': '',
  'Listening. Leave the probes alone for two minutes.': '',
  'The air was not still. Nothing was corrected.': '',
  'Wait: the air or a probe is not still yet.': '',
  'They agree within their accuracies. From now on their offsets are corrected.': '',
  'They agree within their accuracies.': '',
  '{0} Their offsets are corrected all the same. Have the odd one calibrated.': '',
  '{0} Dry them, and make sure all lie in the same air.': '',
  // server/session/walk.ts
  'A walk along the outlet or the intake is running with a probe of this unit.': '',
  'Until it ends that probe is left out. Without another one at its place there is no figure.': '',
  'End the walk, and hang the probe back in its place.': '',
  'It has settled. Tap Go, then move it along the {0} at an even pace, a minute there and back.':
    '',
  'Hold {0} still at one end of the {1} until it settles.': '',
  'Keep moving along the {0} at an even pace, and end where you began.': '',
  'From now on the probes that stayed put are corrected for their spot.': '',
  'A probe that should have stayed put was moved or checked. Nothing was corrected.': '',
  'No reading from {0} or a probe that stays. {1}': '',
  'Bring them closer to the computer.': '',
  'Nothing was corrected.': '',
  'Return and supply hardly differ. Let the unit run first.': '',
  'Return and supply hardly differed. Nothing was corrected.': '',
  'Move {0} along the {1} at an even pace, a minute or more.': '',
  'The walk was too short. Nothing was corrected.': '',
  // server/session/walks.ts
  'phase: no walk is running: start one first': '',
  'probe: "{0}" lies in a side-by-side check: end the check first': '',
  'place: no other live probe hangs in the {0} of "{1}": one has to stay there while "{2}" is moved':
    '',
  // server/measure/expectation/causes-table.ts
  'Switch the unit off and lock the power out before any part comes off: parts inside stay live, the wheel can turn, and fins are sharp. Stand on a firm ladder. Follow the manufacturer’s instructions.':
    '',
  'Stand on a firm ladder, and keep hands and tools out of the outlet while the fan runs.': '',
  'Only licensed persons open the refrigerant circuit or put gauges on it, by the manufacturer’s instructions and local codes. Wear eye and hand protection: refrigerant burns the skin.':
    '',
  'Likely it is not asked for all it has': '',
  'Push the setpoint well past the room’s temperature, set the fan to high, end quiet and economy modes, and wait until it is steady.':
    '',
  'Nothing has to be opened for this.': '',
  'common practice, no source': '',
  'Likely the filter is loaded': '',
  'Look at the filter. Wash or replace it, and measure the airflow again.': '',
  'Switch the unit off before you open the front. Stand on a firm ladder.': '',
  'capacity against airflow: NREL/TP-5500-56354 (2013), single-speed units; the rest common practice':
    '',
  'Likely the blower wheel is dirty': '',
  'Make sure that the fan runs at the speed that was entered. Then look through the outlet at the blades of the wheel with a light.':
    '',
  'Likely the indoor coil is dirty': '',
  'Take the filter out and look at the fins of the coil with a light. A coil that is clogged lets less air through, and cools less of it.':
    '',
  'Siegel, Walker and Sherman (2002): fouling mostly costs less than 5 % of capacity; the rest common practice':
    '',
  'Likely other heads take their share': '',
  'Switch the other heads on this outdoor unit off, wait until it is steady, and capture again. Note which heads ran.':
    '',
  'Ask before you switch off what somebody needs.': '',
  'Likely the refrigerant charge is low': '',
  'Airflow and demand are as they should be and the coil does little: compare line length and factory charge with the manufacturer’s instructions, look for oil at the flare joints, and have the charge checked.':
    '',
  'NIST TN 1848 (2014) for capacity and power; with an expansion valve of its own a unit shows little of it (Choi and Kim 2002)':
    '',
  'Likely the return draws supply air': '',
  'Turn the louver away from the intake, clear what turns the airstream back, and measure again with the return probe right at the intake.':
    '',
  'Likely the probe’s spot is not the outlet’s mean': '',
  'Walk the outlet again, hang more supply probes along it, and capture again. If it stays uneven, look for a coil that is partly blocked, and for a louver that is bent.':
    '',
  'Likely the probes are off': '',
  'Check the probes side by side, and capture again. Look whether one is wet or dusty, or hangs in sun or against the housing.':
    '',
  'It delivers {0} of what is expected.': '',
  'It delivers {0} of what it did at the baseline.': '',
  'It moves {0} of the air that it should.': '',
  'Return and supply differ by {0} of what a healthy unit shows.': '',
  'The sensible heat ratio is {0} ± {1} {2} than that of a healthy unit.': '',
  lower: '',
  higher: '',
  'The coil brings {0} of the air to its own temperature; about {1} % is usual.': '',
  'It draws {0} of the power that goes with full demand.': '',
  'When the setpoint was pushed, the figure {0} by {1}.': '',
  fell: '',
  rose: '',
  'About {0} of the return air is supply air.': '',
  'Along the outlet the air differs by {0} of the difference between return and supply.': '',
  'Full demand has been shown.': '',
  'Full demand has not been shown.': '',
  'Other heads on the same outdoor unit run.': '',
  'No other head on the same outdoor unit runs.': '',
  'It cycles.': '',
  'It does not cycle.': '',
  'The coil is wet.': '',
  'The coil is dry.': '',
  'The filter is clean.': '',
  'The filter is loaded.': '',
  'The probes were checked side by side.': '',
  'Nobody has checked the probes side by side.': '',
  // server/measure/whole-cycles.ts
  'one whole cycle': '',
  '{0} whole cycles': '',
  'no whole cycle yet': '',
  '{0} so far': '',
  '{0}, a mean needs more': '',
};
