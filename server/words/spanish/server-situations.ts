/** Server situations, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_SITUATIONS: Catalog = {
  // server/session/situations/coil-drying.ts
  'The air gets colder and moister': '',
  'The air loses {0} sensible and takes up {1} as moisture': '',
  'The fan runs and the coil dries: the water on it goes back into the air.': '',
  '{0}: apart from probe errors the two cancel, and the unit delivers nothing.': '',
  'For the capacity, set it well below room temperature so that the compressor runs. Before a fan-only test, wait until the coil is dry.':
    '',
  // server/session/situations/duct-heat.ts
  'With the fan alone the supply is {0} warmer than the return, at the same moisture: the air picks up heat between the probes, as in a duct through a hot space.':
    '',
  'That is at least {0}, and more when cold air flows. The figure is what reaches the room. In cooling, the unit itself delivers at least that much more.':
    '',
  'For the capacity of the unit itself, hang the supply probe right at its own outlet and the return probe at its own intake. Switch off and lock out before you open a duct, and mind the heat in an attic.':
    '',
  // server/session/situations/fan-auto.ts
  '{0} to {1} %': '',
  'The supply became {0} the return within a minute or two, and the room did not notice: the fan seems to have {1} on its own.':
    '',
  'further from': '',
  'closer to': '',
  'slowed down': '',
  'sped up': '',
  'The airflow would then be about {0} of the one in use, and the true figure the same share of the one shown.':
    '',
  'Set the fan to a fixed speed and enter its airflow there, or hang a velocity probe in the outlet: the airflow then follows it.':
    '',
  // server/session/situations/louvre-swings.ts
  'The velocity in the outlet': '',
  'The supply temperature': '',
  'The supply probe is too slow to show it': '',
  'It moves the sensible figure by about ±{0} % as the probe shows it, by more in the air': '',
  '{0} swings evenly, about every {1} s: the louver seems to be swinging.': '',
  '{0}. Whenever the airstream turns away, the probe reads room air and the mean comes out too low.':
    '',
  'Stop the louver with the remote control, not by hand, and make sure the probe hangs in the airstream.':
    '',
  // server/session/situations/other-heads.ts
  'The figure fell by {0} % within two minutes with no change entered and the room still far from the setpoint.':
    '',
  'Another head on the same outdoor unit may have started, or the fan changed speed on its own. The unit may be able to deliver {0} more.':
    '',
  'Check whether other heads run, and whether mode and fan speed are as they were.': '',
  '{0} took up {1} as this unit fell by {2}: they seem to share an outdoor unit.': '',
  'The figure is what this unit gets while the other runs too.': '',
  'For all that it can deliver, switch {0} off and wait. Note which heads ran.': '',
  // server/session/situations/outlet-probe.ts
  '{0} is placed at the outlet, the place for velocity, but sends none.': '',
  'Its readings are in no figure.': '',
  'If it hangs in the air that comes out, place it in the supply. For velocity, hang a velocity probe at the outlet.':
    '',
  // server/session/situations/probes-differ.ts
  'more moisture than the air at one place can': '',
  '{0} hang in the same {1} air but differ by {2}.': '',
  '{0} differs from the other {1} probes by {2}.': '',
  'Make sure each hangs at its place, in the airstream and away from sun, lamps and pipes. Check them side by side to find the wrong one, and take it away.':
    '',
  'with {0} alone it would be about {1}': '',
  'The figure takes their mean, which is the air of no place.': '',
  'The figure takes their mean: {0}.': '',
  // server/session/situations/reheat.ts
  'Sensible is negative, latent positive': '',
  'Sensible is {0}, latent {1}': '',
  'The unit takes water out of the air and warms the air again: it dehumidifies with reheat.': '',
  '{0}. The total is what the room loses, not what the unit delivers in cooling.': '',
  'For the cooling capacity, set the unit to cooling. Do not compare this figure with a cooling table.':
    '',
  // server/session/situations/scene.ts
  '{0}{1} kW': '',
  '{0} g/kg ({1} gr/lb)': '',
  // server/session/situations/short-circuit.ts
  'The return is {0} {1} than the room: about {2} % of it is supply air{3}.': '',
  warmer: '',
  colder: '',
  ', or warm air lies under the ceiling': '',
  'If only the probe gets it, the figure is too low by that much. If the unit draws it in too, the figure is right, but the unit works against itself.':
    '',
  'Hang the return probe right at the intake, out of the outlet’s airstream. Turn the louver, and clear what turns the airstream back.':
    '',
};
