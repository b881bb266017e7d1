/** Server doubts, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_DOUBTS: Catalog = {
  // server/session/doubt.ts
  '{0} min': '',
  '{0} days': '',
  // server/session/doubts.ts
  'Return and supply probes have not been checked side by side.': '',
  'Each may be off by its own data-sheet accuracy, which is a large part of the interval.': '',
  'Put them together in the same air for a few minutes and run the check.': '',
  'Measure it: a sweep of the outlet takes two minutes.': '',
  'The airflow is from the fan table, not measured at this unit.': '',
  'A dirty wheel, coil or filter moves less air than the table says: the figure is then too high by the same share.':
    '',
  'The airflow was entered by hand, not measured at this unit.': '',
  'The figure is off by the same share as the airflow.': '',
  'The air changes faster than the probes can follow.': '',
  'Humidity lags behind temperature, so sensible, latent and total are off for a while.': '',
  'Wait until it moves less. Captures leave this time out.': '',
  'Probes of this unit are in a side-by-side check.': '',
  'There is no figure until the check ends.': '',
  'Leave the probes where they are until the check has enough readings.': '',
  'End the check and hang the probes back in their places.': '',
  'The unit has been defrosting for {0}.': '',
  'It takes heat from the room or rests: this is not what it delivers.': '',
  'Wait: it ends on its own. Captures leave this time out.': '',
  'The unit has just defrosted. The {0} minutes after that do not count.': '',
  'It is still warming up: the figure is not what it delivers.': '',
  'Wait until it is steady again.': '',
  '{0} has sent nothing for {1}.': '',
  'It is left out. Without another probe at its place there is no figure.': '',
  'Check its battery and its distance.': '',
  'No reading from {0} yet.': '',
  'Without it there may be no figure.': '',
  'Turn it on and bring it closer.': '',
  '{0} sends no temperature.': '',
  'It is left out.': '',
  'Hang one probe that measures both temperature and humidity.': '',
  'Together, the probes of one place describe impossible air: more moisture than air at their mean temperature can hold.':
    '',
  'The latent part is wrong, and the total with it.': '',
  'Use probes that measure both temperature and humidity, and hang them where the air is well mixed.':
    '',
  '{0} is late: its last reading is {1} old.': '',
  'The figure lags by that much.': '',
  'Wait a moment. If it stays late, bring the probe and this computer closer together.': '',
  'No live temperature in the {0} air.': '',
  'There is no figure.': '',
  'Hang a probe in the {0} and place it.': '',
  'No live humidity or dew point in the {0} air.': '',
  'There is no latent part, and so no total.': '',
  'Use a probe that measures humidity too.': '',
  'No live humidity.': '',
  'Plateau assumes 6 g/kg (42 gr/lb), which changes a heating figure by less than 1 %.': '',
  'Nothing to do.': '',
  'Supply is warmer than return while cooling.': '',
  'The figure is negative.': '',
  'Its sensible part is negative.': '',
  'Check whether the two probes are swapped, and whether the unit cools at all.': '',
  'Supply is colder than return while heating.': '',
  'Check whether the two probes are swapped. If the unit is defrosting, wait.': '',
  'The return temperature follows the supply’s within a minute or two.': '',
  'About {0} % of the air at the return probe seems to be supply air. Unless the unit draws it in too, the figure is too low by that much.':
    '',
  'Hang the return probe right at the intake, out of the outlet’s airstream, or turn the louver.':
    '',
  'The side-by-side check is {0} old.': '',
  'It is worth {0} % of a new one.': '',
  'Check the probes again.': '',
  'No airflow is known for this unit.': '',
  'Measure it, or enter it from the fan table.': '',
  'The airflow entered is close to zero: the fan is off.': '',
  'The figure means little and is never called steady.': '',
  'Start the fan, or enter the airflow it has now.': '',
  'The output is too small to measure: the unit is off or close to it.': '',
  'It is never called steady.': '',
  'Set it well below (cooling) or above (heating) room temperature.': '',
  'The airflow was entered for fan speed "{0}".': '',
  'The figure is off by as much as the two speeds differ, up to half.': '',
  'Enter the airflow at the present fan speed.': '',
  'The accuracy of {0} is not known.': '',
  'Without it there is no interval and no automatic capture.': '',
  'Enter the accuracy from its data sheet.': '',
  'The readings describe impossible air: {0}.': '',
  'Check the pressure and the probe that reads this.': '',
  // server/session/evenness.ts
  'One probe stands for the whole {0}.': '',
  'Its spot may be off by {0} % of the difference between return and supply (assumed, one standard deviation): about ± {1} % of the figure.':
    '',
  'Walk the {0} with a second probe, or hang more probes along it.': '',
  // server/session/figures.ts
  'a return probe': '',
  'a supply probe': '',
  // server/session/moisture.ts
  '{0} reads humidity outside {1} to {2} %, the range that most data sheets cover.': '',
  'Its ± counts {0} times, which widens the interval by {1} % of the figure.': '',
  'The interval covers that. A side-by-side check in air like this narrows it.': '',
  'Supply and return differ by {0} of moisture: more than the {1} that their ± explain, and a heating coil cannot cause it.':
    '',
  'Humidity does not count as heat here, so the figure hardly changes.': '',
  'Nothing to do for this figure. Before you measure cooling, check the probes side by side.': '',
  '{0} has read 100 %, or within its ± of that, for {1}. Room air is hardly ever that humid: the probe is probably wet.':
    '',
  'It reads too humid, and too cold while it dries: the figure is off by that much.': '',
  'Dry it and hang it where no water drips on it.': '',
  '{0} has read 100 %, or within its ± of that, for {1}, and more moisture than goes in while the unit cools: it is probably wet.':
    '',
  'The latent part comes out too small, and the total with it.': '',
  // server/session/outlet-velocity.ts
  less: '',
  more: '',
  'The airflow followed the velocity probe in the outlet, which sends nothing now.': '',
  'Plateau uses the airflow that was entered. It still matched when the probe was last heard.': '',
  'Plateau uses the airflow that was entered. It was {0} % {1} when the probe was last heard.': '',
  'Check the velocity probe: its battery, its distance, and that it hangs in the outlet. Or enter the airflow again.':
    '',
  // server/session/place.ts
  '{0} reads 100 % or more and counts as 100 %.': '',
  'Air can hold no more: it can only be drier, and the interval covers that.': '',
  'Behind a wet coil, nothing to do. Elsewhere, look for water on the probe.': '',
  // server/session/placed-zero.ts
  'zero {0} {1}': '',
  // server/session/pressure.ts
  'No barometric pressure entered: Plateau assumes 101.3 kPa (sea level).': '',
  'Enter the pressure or the altitude.': '',
  'On higher ground a figure is off by up to 1.2 % for each 100 m.': '',
  'On higher ground this figure is too {0} by about {1} % for each {2} m.': '',
  high: '',
  low: '',
  // server/session/unit-doubts.ts
  'The airflow was entered as standard air, and the air of this unit is far from standard density.':
    '',
  'If it was read off a fan table, the figure is {0} % too {1}: a fan moves the same volume of thin air as of dense.':
    '',
  'Say where the airflow comes from: the fan table, or measured at this unit as standard air.': '',
};
