/** Lessons, in Spanish. */
import type { Catalog } from '../language.ts';

export const LESSONS: Catalog = {
  // server/class/lessons.ts
  'Switch the unit off and lock the power out before any part comes off; the wheel can turn and fins are sharp.':
    '',
  'A unit as it should be': '',
  'The unit was cleaned last week. Commission it: place the probes, show full demand, wait until it is steady, and capture.':
    '',
  'Return and supply placed the right way round, the fan speed told, the setpoint pushed, and a capture only after it is steady. The verdict is that it meets what it should.':
    '',
  'Dirty blower wheel': '',
  'The owner says that it still blows cold, but it takes all day. Find out why.': '',
  'The table’s airflow is that of a clean wheel: only a traverse shows that less air moves. Supply is colder than usual, and capacity lower. A clean filter leaves the wheel. {0}':
    '',
  'Loaded filter': '',
  'Nobody remembers when the filter was last washed. Say what it costs.': '',
  'Traverse the outlet: less air moves than the table says, and supply is colder. Filter and wheel look alike in the figures, so look at the filter first. Switch the unit off before you open the front.':
    '',
  'Dirty indoor coil': '',
  'The filter is new and the wheel is clean. It still falls short. Find out why.': '',
  'Less air moves, and supply is no colder for it: the coil touches less of the air. {0}': '',
  'Low refrigerant charge': '',
  'The line set was lengthened in spring. Since then the room does not come down. Measure, and say what you suspect.':
    '',
  'Airflow is right and full demand is shown, yet the coil does little and the compressor works hard for it. Only licensed persons open the refrigerant circuit or put gauges on it; eye and hand protection is a must.':
    '',
  'Other heads share the outdoor unit': '',
  'Two more heads hang on the same outdoor unit, and people work in those rooms. Measure this one.':
    '',
  'A head that shares can give only its share. Ask what else runs, switch the others off if nobody needs them, and capture again. The meter at the outdoor unit tells it: full power, half the capacity.':
    '',
  'Not asked for all it has': '',
  'A colleague captured half of what it should deliver and wrote “falls short.” Check the finding.':
    '',
  'A variable-speed unit gives what it is asked. Push the setpoint well past the room and watch: the figure rises, so the first capture judged nothing.':
    '',
  'The return draws supply air': '',
  'A new bookcase stands close to the head. Since then the room stays warm although the air is icy.':
    '',
  'Compare the return with the probe in the room: the return is several degrees colder, so the unit breathes its own air. Turn the louver away, or move what turns the airstream back.':
    '',
  'Uneven outlet': '',
  'One supply probe hangs right of the middle. Say whether you trust it.': '',
  'Walk the outlet: the air at its right end is degrees warmer than at its left, and no one spot stands for the mean. More supply probes along the outlet do.':
    '',
  'The fan slows down by itself': '',
  'The fan is on high, says the remote. Measure the unit, and keep an eye on the airflow.': '',
  'Within minutes the difference between return and supply grows although nothing was touched: the fan is on auto and has gone down a step or more. The airflow in the set-up no longer holds. Set the speed by hand.':
    '',
  'Drying with reheat': '',
  'It is a cool wet day and the unit has been set to dry the room. Measure what it does.': '',
  'Supply is hardly cooler than return and much drier: nearly all of the capacity is latent. This is how the unit dries without cooling the room. Set it to cool, and measure again.':
    '',
  'A site at 2000 m': '',
  'The lodge stands high in the hills. The fan table is printed at standard density. Measure the unit.':
    '',
  'A fan moves the same volume of thinner air, so about a fifth less mass. Set the site’s pressure or altitude before anything else; the table’s volume holds, its mass does not. Measured so, the unit is in order.':
    '',
  'A wet supply probe': '',
  'Droplets fly from the outlet. The sensible heat ratio looks odd. Find out whether it is the unit.':
    '',
  'Supply reads close to 100 % all the time and colder than a dry probe beside it: water on it evaporates. Total hardly changes, but sensible reads too high and latent too low. Dry the probe and hang it out of the droplets.':
    '',
  'Swapped probes': '',
  'A helper hung the probes before you came, and their labels say where. Take over.': '',
  'In cooling the return must be warmer than the supply. Here it is the other way round, so the capacity is negative. Warm one probe in your hand to see which it is, and place both anew.':
    '',
  'A probe that drifts': '',
  'The figure never quite settles. Find out whether the unit or the measurement moves.': '',
  'Capacity falls slowly and steadily while room, power and airflow stay as they are. Lay the probes side by side: one has walked off. Take another, or check again right before the capture.':
    '',
  'An airflow of another unit': '',
  'The airflow has been entered for you. Measure, and judge the unit.': '',
  'The unit seems to deliver far more than it can. Temperatures are as usual, so the airflow is not: the figure belongs to a larger unit. A traverse gives the right one.':
    '',
  'A unit too large for its room': '',
  'A mild day in a small room. Find out what the unit delivers.': '',
  'The compressor cannot go low enough, so it starts and stops. No moment stands for the whole: average over whole cycles. A push to full demand shows that nothing is wrong with it.':
    '',
  Defrost: '',
  'It is just above freezing and damp. Measure the heating that the unit delivers.': '',
  'Capacity falls little by little, then the fan stops and supply turns cold for some minutes: the outdoor coil is melted free. Nothing is wrong. Capture between defrosts, or average over a whole one.':
    '',
  'A heating unit as it should be': '',
  'A cool, dry day. Commission the unit in heating.': '',
  'In heating the supply is the warmer one and the coil is dry: sensible is all there is. The setpoint goes up for full demand, and the figure meets what it should.':
    '',
  'Something changes while you measure': '',
  'The unit runs well when you come. Keep measuring for half an hour, and say when something changes and what it is.':
    '',
  'At a quarter of an hour supply becomes colder and the airflow less: a sheet of paper lies on the intake. What has been captured before still holds, what comes after is another machine.':
    '',
  // server/words/decisions.ts
  'Nothing is wrong': '',
  'It is not asked for all it has': '',
  'The filter is loaded': '',
  'The blower wheel is dirty': '',
  'The indoor coil is dirty': '',
  'Other heads take their share': '',
  'The refrigerant charge is low': '',
  'The probe’s spot is not the outlet’s mean': '',
  'The fan changes its speed by itself': '',
  'It dries the air and warms it again': '',
  'It cycles: average over whole cycles': '',
  'It defrosts: wait until it is over': '',
  'The air is thin at this altitude': '',
  'The supply probe is wet': '',
  'Return and supply probes are swapped': '',
  'A probe drifts': '',
  'The airflow entered is not this unit’s': '',
};
