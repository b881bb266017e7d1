/** Lessons, in Spanish. */
import type { Catalog } from '../language.ts';

export const LESSONS: Catalog = {
  // server/class/lessons.ts
  'Switch the unit off and lock the power out before any part comes off; the wheel can turn and fins are sharp.':
    'Apague la unidad y bloquee la alimentación eléctrica antes de desmontar cualquier pieza; la turbina puede girar y las aletas cortan.',
  'A unit as it should be': 'Una unidad como debe estar',
  'The unit was cleaned last week. Commission it: place the probes, show full demand, wait until it is steady, and capture.':
    'La unidad se limpió la semana pasada. Haga la puesta en marcha: coloque las sondas, demuestre demanda plena, espere a que esté estable y capture.',
  'Return and supply placed the right way round, the fan speed told, the setpoint pushed, and a capture only after it is steady. The verdict is that it meets what it should.':
    'Retorno y suministro colocados donde van, la velocidad del ventilador indicada, la unidad exigida con el punto de ajuste, y la captura solo cuando ya está estable. El veredicto es que cumple.',
  'Dirty blower wheel': 'Turbina del ventilador sucia',
  'The owner says that it still blows cold, but it takes all day. Find out why.':
    'El dueño dice que todavía sopla frío, pero que tarda todo el día. Averigüe por qué.',
  'The table’s airflow is that of a clean wheel: only a traverse shows that less air moves. Supply is colder than usual, and capacity lower. A clean filter leaves the wheel. {0}':
    'El caudal de aire de la tabla es el de una turbina limpia: solo un recorrido de medición muestra que se mueve menos aire. El suministro está más frío que de costumbre y la capacidad es menor. Si el filtro está limpio, solo queda la turbina. {0}',
  'Loaded filter': 'Filtro sucio',
  'Nobody remembers when the filter was last washed. Say what it costs.':
    'Nadie recuerda cuándo se lavó el filtro por última vez. Diga cuánto se pierde por eso.',
  'Traverse the outlet: less air moves than the table says, and supply is colder. Filter and wheel look alike in the figures, so look at the filter first. Switch the unit off before you open the front.':
    'Haga el recorrido de medición en la salida: se mueve menos aire del que dice la tabla, y el suministro está más frío. El filtro y la turbina se ven igual en las cifras, así que revise primero el filtro. Apague la unidad antes de abrir el frente.',
  'Dirty indoor coil': 'Serpentín interior sucio',
  'The filter is new and the wheel is clean. It still falls short. Find out why.':
    'El filtro es nuevo y la turbina está limpia. Aun así no llega. Averigüe por qué.',
  'Less air moves, and supply is no colder for it: the coil touches less of the air. {0}':
    'Se mueve menos aire, y aun así el suministro no está más frío: menos aire toca el serpentín. {0}',
  'Low refrigerant charge': 'Carga de refrigerante baja',
  'The line set was lengthened in spring. Since then the room does not come down. Measure, and say what you suspect.':
    'En primavera alargaron las líneas de refrigerante. Desde entonces el cuarto no baja de temperatura. Mida y diga qué sospecha.',
  'Airflow is right and full demand is shown, yet the coil does little and the compressor works hard for it. Only licensed persons open the refrigerant circuit or put gauges on it; eye and hand protection is a must.':
    'El caudal de aire es correcto y se demostró demanda plena, pero el serpentín hace poco y el compresor trabaja mucho para lograrlo. Solo personal con licencia abre el circuito de refrigerante o le conecta manómetros; es obligatorio protegerse los ojos y las manos.',
  'Other heads share the outdoor unit': 'Otras unidades interiores comparten la unidad exterior',
  'Two more heads hang on the same outdoor unit, and people work in those rooms. Measure this one.':
    'Hay dos unidades interiores más conectadas a la misma unidad exterior, y hay gente trabajando en esos cuartos. Mida esta.',
  'A head that shares can give only its share. Ask what else runs, switch the others off if nobody needs them, and capture again. The meter at the outdoor unit tells it: full power, half the capacity.':
    'Una unidad interior que comparte solo puede dar su parte. Pregunte qué más está encendido, apague las demás si nadie las necesita y capture de nuevo. El medidor de la unidad exterior lo dice: toda la potencia, la mitad de la capacidad.',
  'Not asked for all it has': 'No se le exige todo',
  'A colleague captured half of what it should deliver and wrote “falls short.” Check the finding.':
    'Un colega capturó la mitad de lo que debería entregar y escribió “no llega”. Verifique el hallazgo.',
  'A variable-speed unit gives what it is asked. Push the setpoint well past the room and watch: the figure rises, so the first capture judged nothing.':
    'Una unidad de velocidad variable da lo que se le pide. Lleve el punto de ajuste mucho más allá de la temperatura del cuarto y observe: la cifra sube, así que la primera captura no juzgaba nada.',
  'The return draws supply air': 'El retorno aspira aire de suministro',
  'A new bookcase stands close to the head. Since then the room stays warm although the air is icy.':
    'Pusieron un librero nuevo cerca de la unidad interior. Desde entonces el cuarto sigue caliente aunque el aire sale helado.',
  'Compare the return with the probe in the room: the return is several degrees colder, so the unit breathes its own air. Turn the louver away, or move what turns the airstream back.':
    'Compare el retorno con la sonda del cuarto: el retorno está varios grados más frío, así que la unidad respira su propio aire. Gire la persiana hacia otro lado o mueva lo que devuelve el chorro de aire.',
  'Uneven outlet': 'Salida dispareja',
  'One supply probe hangs right of the middle. Say whether you trust it.':
    'Hay una sola sonda de suministro, a la derecha del centro. Diga si confía en ella.',
  'Walk the outlet: the air at its right end is degrees warmer than at its left, and no one spot stands for the mean. More supply probes along the outlet do.':
    'Recorra la salida: el aire del extremo derecho está varios grados más caliente que el del izquierdo, y ningún punto por sí solo representa el promedio. Varias sondas de suministro a lo largo de la salida, sí.',
  'The fan slows down by itself': 'El ventilador baja de velocidad por sí solo',
  'The fan is on high, says the remote. Measure the unit, and keep an eye on the airflow.':
    'El ventilador está en alta, según el control remoto. Mida la unidad y no pierda de vista el caudal de aire.',
  'Within minutes the difference between return and supply grows although nothing was touched: the fan is on auto and has gone down a step or more. The airflow in the set-up no longer holds. Set the speed by hand.':
    'En pocos minutos la diferencia entre retorno y suministro crece sin que nadie toque nada: el ventilador está en automático y bajó uno o más pasos. El caudal de aire de la configuración ya no vale. Fije la velocidad a mano.',
  'Drying with reheat': 'Deshumidificación con recalentamiento',
  'It is a cool wet day and the unit has been set to dry the room. Measure what it does.':
    'Es un día fresco y lluvioso, y pusieron la unidad a deshumidificar el cuarto. Mida lo que hace.',
  'Supply is hardly cooler than return and much drier: nearly all of the capacity is latent. This is how the unit dries without cooling the room. Set it to cool, and measure again.':
    'El suministro está apenas más frío que el retorno y mucho más seco: casi toda la capacidad es latente. Así deshumidifica la unidad sin enfriar el cuarto. Póngala en enfriamiento y mida de nuevo.',
  'A site at 2000 m': 'Un sitio a 2000 m',
  'The lodge stands high in the hills. The fan table is printed at standard density. Measure the unit.':
    'La cabaña está en lo alto de la sierra. La tabla del ventilador está impresa para densidad estándar. Mida la unidad.',
  'A fan moves the same volume of thinner air, so about a fifth less mass. Set the site’s pressure or altitude before anything else; the table’s volume holds, its mass does not. Measured so, the unit is in order.':
    'El ventilador mueve el mismo volumen de un aire menos denso, o sea, cerca de una quinta parte menos de masa. Antes que nada, ingrese la presión o la altitud del sitio; el volumen de la tabla vale, su masa no. Medida así, la unidad está bien.',
  'A wet supply probe': 'Una sonda de suministro mojada',
  'Droplets fly from the outlet. The sensible heat ratio looks odd. Find out whether it is the unit.':
    'El aire de la salida arrastra gotas. El factor de calor sensible se ve raro. Averigüe si es la unidad.',
  'Supply reads close to 100 % all the time and colder than a dry probe beside it: water on it evaporates. Total hardly changes, but sensible reads too high and latent too low. Dry the probe and hang it out of the droplets.':
    'El suministro lee cerca de 100 % todo el tiempo, y más frío que una sonda seca a su lado: el agua que tiene encima se evapora. El total casi no cambia, pero el sensible da de más y el latente de menos. Seque la sonda y colóquela fuera de las gotas.',
  'Swapped probes': 'Sondas invertidas',
  'A helper hung the probes before you came, and their labels say where. Take over.':
    'Un ayudante colocó las sondas antes de que usted llegara, y sus etiquetas dicen dónde. Siga usted desde ahí.',
  'In cooling the return must be warmer than the supply. Here it is the other way round, so the capacity is negative. Warm one probe in your hand to see which it is, and place both anew.':
    'En enfriamiento el retorno tiene que estar más caliente que el suministro. Aquí es al revés, y por eso la capacidad es negativa. Caliente una sonda con la mano para ver cuál es, y coloque las dos de nuevo.',
  'A probe that drifts': 'Una sonda que se desvía',
  'The figure never quite settles. Find out whether the unit or the measurement moves.':
    'La cifra nunca se estabiliza del todo. Averigüe si se mueve la unidad o la medición.',
  'Capacity falls slowly and steadily while room, power and airflow stay as they are. Lay the probes side by side: one has walked off. Take another, or check again right before the capture.':
    'La capacidad baja poco a poco, sin parar, mientras el cuarto, la potencia y el caudal de aire siguen igual. Ponga las sondas lado a lado: una se desvió. Use otra, o haga de nuevo la comparación justo antes de capturar.',
  'An airflow of another unit': 'Un caudal de aire de otra unidad',
  'The airflow has been entered for you. Measure, and judge the unit.':
    'El caudal de aire ya está ingresado. Mida y juzgue la unidad.',
  'The unit seems to deliver far more than it can. Temperatures are as usual, so the airflow is not: the figure belongs to a larger unit. A traverse gives the right one.':
    'La unidad parece entregar mucho más de lo que puede. Las temperaturas son las de siempre, así que el caudal de aire no lo es: la cifra es de una unidad más grande. Un recorrido de medición da la correcta.',
  'A unit too large for its room': 'Una unidad demasiado grande para su cuarto',
  'A mild day in a small room. Find out what the unit delivers.':
    'Un día templado en un cuarto chico. Averigüe cuánto entrega la unidad.',
  'The compressor cannot go low enough, so it starts and stops. No moment stands for the whole: average over whole cycles. A push to full demand shows that nothing is wrong with it.':
    'El compresor no puede bajar lo suficiente, así que arranca y para. Ningún momento representa el conjunto: promedie ciclos completos. Una prueba de exigencia a demanda plena muestra que la unidad no tiene ninguna falla.',
  Defrost: 'Descongelamiento',
  'It is just above freezing and damp. Measure the heating that the unit delivers.':
    'Está apenas arriba del punto de congelación y hay humedad. Mida la calefacción que entrega la unidad.',
  'Capacity falls little by little, then the fan stops and supply turns cold for some minutes: the outdoor coil is melted free. Nothing is wrong. Capture between defrosts, or average over a whole one.':
    'La capacidad baja poco a poco; luego el ventilador para y el suministro sale frío unos minutos: se está derritiendo el hielo del serpentín exterior. No hay ninguna falla. Capture entre descongelamientos, o promedie un ciclo completo con el descongelamiento.',
  'A heating unit as it should be': 'Una unidad en calefacción como debe estar',
  'A cool, dry day. Commission the unit in heating.':
    'Un día fresco y seco. Haga la puesta en marcha de la unidad en calefacción.',
  'In heating the supply is the warmer one and the coil is dry: sensible is all there is. The setpoint goes up for full demand, and the figure meets what it should.':
    'En calefacción el suministro es el más caliente y el serpentín está seco: todo es sensible. El punto de ajuste se sube para la demanda plena, y la cifra cumple con lo que debería.',
  'Something changes while you measure': 'Algo cambia mientras mide',
  'The unit runs well when you come. Keep measuring for half an hour, and say when something changes and what it is.':
    'La unidad trabaja bien cuando usted llega. Siga midiendo media hora, y diga cuándo cambia algo y qué es.',
  'At a quarter of an hour supply becomes colder and the airflow less: a sheet of paper lies on the intake. What has been captured before still holds, what comes after is another machine.':
    'Al cuarto de hora el suministro sale más frío y el caudal de aire baja: hay una hoja de papel sobre la toma. Lo que se capturó antes sigue valiendo; lo que viene después es otra máquina.',
  // server/words/decisions.ts
  'Nothing is wrong': 'No hay ninguna falla',
  'It is not asked for all it has': 'No se le exige todo lo que puede dar',
  'The filter is loaded': 'El filtro está sucio',
  'The blower wheel is dirty': 'La turbina del ventilador está sucia',
  'The indoor coil is dirty': 'El serpentín interior está sucio',
  'Other heads take their share': 'Otras unidades interiores toman su parte',
  'The refrigerant charge is low': 'La carga de refrigerante está baja',
  'The probe’s spot is not the outlet’s mean':
    'El lugar de la sonda no representa el promedio de la salida',
  'The fan changes its speed by itself': 'El ventilador cambia de velocidad por sí solo',
  'It dries the air and warms it again': 'Seca el aire y lo vuelve a calentar',
  'It cycles: average over whole cycles': 'Está en ciclos: promedie ciclos completos',
  'It defrosts: wait until it is over': 'Está en descongelamiento: espere a que termine',
  'The air is thin at this altitude': 'El aire es menos denso a esta altitud',
  'The supply probe is wet': 'La sonda de suministro está mojada',
  'Return and supply probes are swapped': 'Las sondas de retorno y suministro están invertidas',
  'A probe drifts': 'Una sonda se desvía',
  'The airflow entered is not this unit’s': 'El caudal de aire ingresado no es de esta unidad',
};
