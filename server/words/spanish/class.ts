/** Class, in Spanish. */
import type { Catalog } from '../language.ts';

export const CLASS: Catalog = {
  // client/words/changed.ts
  'Somebody at the computer': 'Alguien en la computadora',
  '{0} changed the airflow of {1}.': '{0} cambió el caudal de aire de {1}.',
  '{0} changed what {1} should deliver.': '{0} cambió lo que {1} debería entregar.',
  '{0} changed the set-up of {1}.': '{0} cambió la configuración de {1}.',
  '{0} changed an opening.': '{0} cambió una abertura.',
  '{0} changed the opening of {1}.': '{0} cambió la abertura de {1}.',
  '{0} took a probe out of the list.': '{0} quitó una sonda de la lista.',
  '{0} changed the probe {1}.': '{0} cambió los datos de la sonda {1}.',
  '{0} changed the outdoor unit.': '{0} cambió los datos de la unidad exterior.',
  '{0} changed the visit settings.': '{0} cambió la configuración de la visita.',
  '{0} added a photo to a capture.': '{0} agregó una foto a una captura.',
  '{0} changed something.': '{0} cambió algo.',
  '{0} changed the setpoint of {1}.': '{0} cambió el punto de ajuste de {1}.',
  '{0} changed the fan speed of {1}.': '{0} cambió la velocidad del ventilador de {1}.',
  '{0} added a note.': '{0} agregó una nota.',
  '{0} made an entry.': '{0} ingresó un dato.',
  '{0} has changed this since you opened it. Saving replaces those entries.':
    '{0} cambió esto después de que usted lo abrió. Si guarda, reemplaza esos datos.',
  'Saving replaces what {0} has entered.': '{0} ingresó datos aquí: si guarda, los reemplaza.',
  'Show theirs': 'Ver sus datos',
  // client/words/check.ts
  'No side-by-side check so far.': 'Aún no hay comparación lado a lado.',
  // client/words/class-result.ts
  'What was true': 'Lo que había en realidad',
  'The right answer': 'La respuesta correcta',
  'What was to be looked for': 'En qué había que fijarse',
  'The class as a whole': 'La clase en conjunto',
  'How close the class came': 'Qué tan cerca llegó la clase',
  'Each trainee’s last capture with its interval, against what was true meanwhile':
    'La última captura de cada participante con su intervalo, frente al valor real de ese momento',
  true: 'real',
  'Each trainee': 'Cada participante',
  True: 'Valor real',
  'Truth inside ±': 'Valor real dentro de ±',
  Decided: 'Decisión',
  'Time to capture, to decide': 'Tiempo hasta capturar, hasta decidir',
  'not measured': 'sin medir',
  'nothing decided': 'sin decidir',
  'Nobody joined this lesson.': 'Nadie entró a esta lección.',
  'Print this page': 'Imprimir esta página',
  'Simulated: no real air was measured.': 'Simulado: no se midió aire real.',
  '– not known': '– se desconoce',
  '● inside': '● dentro',
  '◇ outside': '◇ fuera',
  '– open': '– sin decidir',
  '● right': '● correcta',
  '◇ not it': '◇ incorrecta',
  'Held on {0}, begun at {1}.': 'Fecha: {0}; inicio a las {1}.',
  'Nobody captured a figure.': 'Nadie capturó una cifra.',
  '{0} of {1} captured; of these, {2} had the truth inside their own interval.':
    'Con captura: {0} de {1}; de estos, {2} con el valor real dentro de su propio intervalo.',
  'Nobody decided what is the matter.': 'Nadie decidió qué está pasando.',
  '{0} of {1} named it; {2} decided nothing.': 'Acertaron: {0} de {1}; sin decidir: {2}.',
  '{0}: {1} ± {2} of the truth, {3}': '{0}: {1} ± {2} del valor real, {3}',
  // client/words/class.ts
  Class: 'Clase',
  'Lead a class': 'Dar una clase',
  'Back to the record': 'Volver al registro',
  'Each trainee joins on a phone or laptop and commissions the same simulated unit, in a visit of their own. You see who stands where. At the end everybody sees what was true.':
    'Cada participante entra con un teléfono o una computadora portátil y hace la puesta en marcha de la misma unidad simulada, en su propia visita. Usted ve cómo va cada quien. Al final todos ven lo que había en realidad.',
  'Everything in a class is simulated. No real air is measured.':
    'En una clase todo es simulado. No se mide aire real.',
  'The class could not be read. What is shown may be old. It is tried again.':
    'No se pudo leer la clase. Lo que se muestra puede no estar al día. Se intenta de nuevo.',
  'Reading the class.': 'Leyendo la clase.',
  'Pick a lesson': 'Elija una lección',
  Lessons: 'Lecciones',
  'Your own': 'Propias',
  'Built in': 'Incluidas',
  'Surprise me': 'Sorpréndame',
  'One of all lessons, drawn by chance. What it is stays folded away from you, too.':
    'Una de todas las lecciones, al azar. Cuál es queda oculto también para usted.',
  'What the trainees are told': 'Lo que se dice a los participantes',
  'What to look for': 'En qué fijarse',
  'Open the class': 'Abrir la clase',
  'The air stands still until you let it run: everybody can join first.':
    'El aire está detenido hasta que usted lo ponga en marcha: así todos pueden entrar antes.',
  'Files that are no lessons': 'Archivos que no son lecciones',
  Cooling: 'Enfriamiento',
  Heating: 'Calefacción',
  'Join here': 'Entre aquí',
  'Class code': 'Código de la clase',
  'Open the address, then enter the code and your name.':
    'Abra la dirección y luego ingrese el código y su nombre.',
  'Code and address': 'Código y dirección',
  'The lesson': 'La lección',
  'Show what it is': 'Mostrar cuál es',
  Run: 'Poner en marcha',
  Freeze: 'Pausar',
  'Speed of the class': 'Velocidad de la clase',
  'Added while it ran': 'Agregado durante la clase',
  'Add a fault': 'Agregar una falla',
  'End the lesson': 'Terminar la lección',
  'End the lesson?': '¿Terminar la lección?',
  'The air stands still for good. Everybody sees what was true, and nobody can change anything any more.':
    'El aire se detiene definitivamente. Todos ven lo que había en realidad, y ya nadie puede cambiar nada.',
  'End it': 'Terminar',
  'Close the class': 'Cerrar la clase',
  'Close the class?': '¿Cerrar la clase?',
  'All visits of the trainees are gone, and so is this page of results. Print it first if you want to keep it.':
    'Se borran todas las visitas de los participantes, y también esta página de resultados. Imprímala antes si quiere conservarla.',
  'Close it': 'Cerrar',
  'Not begun: the air stands still until you let it run.':
    'Sin empezar: el aire está detenido hasta que usted lo ponga en marcha.',
  'Frozen at {0}.': 'En pausa. Van {0}.',
  'Running, {0} in.': 'En marcha. Van {0}.',
  'Running {0} as fast, {1} in.': 'En marcha a velocidad {0}. Van {1}.',
  'Who is in': 'Quiénes están',
  'Nobody yet. They join with the code above.': 'Nadie todavía. Se entra con el código de arriba.',
  Page: 'Página',
  'Side by side': 'Lado a lado',
  State: 'Estado',
  'Send away': 'Sacar',
  away: 'cerrada',
  none: 'no hay',
  'not yet': 'aún no',
  'Send away: {0}': 'Sacar: {0}',
  'Send {0} away?': '¿Sacar a {0}?',
  'Their visit is gone. They can join again, from the beginning.':
    'Se borra su visita. Puede entrar otra vez, desde el principio.',
  '1 trainee is in.': 'Hay 1 participante.',
  '{0} trainees are in.': 'Hay {0} participantes.',
  '{0} Pages open: {1}.': '{0} Páginas abiertas: {1}.',
  // client/words/fault.ts
  'Other heads ask for their share': 'Otras unidades interiores piden su parte',
  'Fan on auto': 'Ventilador en automático',
  'Frost on the outdoor coil': 'Escarcha en el serpentín exterior',
  'Wet supply probe': 'Sonda de suministro mojada',
  'Drifting supply probe': 'Sonda de suministro que se desvía',
  'Return and supply probes swapped': 'Sondas de retorno y suministro invertidas',
  'It comes for all trainees at this moment of the class. The right answer then names it, too.':
    'Aparece para todos los participantes en este momento de la clase. Desde entonces la respuesta correcta también la incluye.',
  Fault: 'Falla',
  'How bad': 'Qué tan grave',
  'It has no size: it is there or not, and stays until the lesson ends.':
    'No tiene grados: está o no está, y se queda hasta que termine la lección.',
  'Add it': 'Agregar',
  'Take it away': 'Quitar',
  'Take it away: {0}': 'Quitar: {0}',
  severe: 'muy grave',
  slight: 'leve',
  'plain to see': 'notable',
  heavy: 'grave',
  there: 'presente',
  '{0}, reads ever higher': '{0}, lee cada vez más alto',
  '{0}, reads ever lower': '{0}, lee cada vez más bajo',
  '{0}{1}, from {2} on': '{0}{1}, a partir de {2}',
  // client/words/frame.ts
  'The computer that runs Plateau cannot be reached. Is Plateau running there, and is this device in the same network? This page tries again by itself.':
    'No se puede conectar con la computadora que ejecuta Plateau. ¿Está Plateau en marcha ahí, y está este dispositivo en la misma red? Esta página reintenta sola.',
  // client/words/lesson.ts
  'What is true in it': 'Lo que hay en realidad',
  'Working out the course.': 'Calculando la evolución.',
  'True capacity over time': 'Capacidad real en el tiempo',
  total: 'total',
  sensible: 'sensible',
  'a healthy unit': 'una unidad sin fallas',
  min: 'min',
  'In {0} the true total goes from {1} to {2}; on its way it is between {3} and {4}.':
    'En {0}, el total real va de {1} a {2}; en ese tiempo está entre {3} y {4}.',
  'A healthy unit, asked for all it has, would give {0} at the end.':
    'Una unidad sin fallas, a demanda plena, daría {0} al final.',
  'So this one gives {0}\u202f% of what it should.':
    'Así que esta da el {0}\u202f% de lo que debería.',
  'Write a lesson': 'Escribir una lección',
  'A lesson is one JSON object. Begin with this example: it is complete and can be kept as it is.':
    'Una lección es un solo objeto JSON. Empiece con este ejemplo: está completo y se puede guardar tal como está.',
  Preview: 'Vista previa',
  Keep: 'Guardar',
  'Kept. “{0}” is in the list above.': 'Guardada. “{0}” está en la lista de arriba.',
  'How it is written': 'Cómo se escribe',
  'The lesson is not JSON ({0}). Mend it there: a lesson is one JSON object, as in the example.':
    'La lección no es JSON ({0}). Corríjala ahí: una lección es un solo objeto JSON, como en el ejemplo.',
  'its name in lists: small letters, digits and hyphens, up to 60; the same id replaces your earlier one':
    'su nombre en las listas: letras minúsculas, dígitos y guiones, hasta 60; el mismo id reemplaza la anterior de usted',
  'for you; the trainees see it after the end, since it may give the answer away':
    'para usted; los participantes lo ven después del final, porque puede delatar la respuesta',
  'what the trainees are told': 'lo que se dice a los participantes',
  '"cooling" or "heating"': '"cooling" o "heating"',
  'height above sea level, 0 to 3500; 0 where it is left out':
    'altura sobre el nivel del mar, de 0 a 3500; 0 si se omite',
  'temperatureC, 15 to 46 in cooling and −15 to 20 in heating; humidityPct, 5 to 100':
    'temperatureC, de 15 a 46 en enfriamiento y de −15 a 20 en calefacción; humidityPct, de 5 a 100',
  'temperatureC, 10 to 35, and humidityPct, 15 to 80, at the start; volumeM3, 40 to 2000: a large room changes slowly; sensibleW, what people, sun and machines give off; moistureKgH':
    'temperatureC, de 10 a 35, y humidityPct, de 15 a 80, al inicio; volumeM3, de 40 a 2000: un cuarto grande cambia despacio; sensibleW, lo que dan las personas, el sol y las máquinas; moistureKgH',
  '10 to 35; some 3 K past the room is full demand':
    'de 10 a 35; unos 3 K más allá de la temperatura del cuarto es demanda plena',
  '"quiet", "low", "medium" or "high"': '"quiet", "low", "medium" o "high"',
  'up to 8, each with a kind and a size; with afterS it comes so many seconds after the beginning':
    'hasta 8, cada una con un tipo (kind) y un tamaño (size); con afterS aparece esa cantidad de segundos después del inicio',
  'source: "fan-table" (the printed table), "entered" (somebody typed it, times factor), or "none"':
    'source: "fan-table" (la tabla impresa), "entered" (alguien lo ingresó, multiplicado por factor) o "none"',
  'true where the set-up says already where the probes hang':
    'true si la configuración ya dice dónde van las sondas',
  'the answers that are right, one to six of those below; "nothing" stands alone':
    'las respuestas correctas, de una a seis de las de abajo; "nothing" va sola',
  'what you say afterwards. Where somebody may go to a real unit, say the caution as well.':
    'lo que usted dice después. Si alguien puede ir luego a una unidad real, diga también la precaución.',
  'Kinds of faults, and their sizes': 'Tipos de falla y su tamaño',
  Answers: 'Respuestas',
  '{0}: no size': '{0}: sin tamaño',
  '{0}: {1} to {2}': '{0}: de {1} a {2}',
  // client/words/notice-trouble.ts
  'Browsers show notifications only for pages over https, or on the computer that runs the server: open the page there, or let the sound call you. The README says how to make a certificate.':
    'Los navegadores muestran notificaciones solo de páginas por https o en la computadora que ejecuta el servidor: abra la página ahí, o use el aviso con sonido. El archivo README explica cómo crear un certificado.',
  'This browser showed no notification. Add the page to the home screen and open it from there, or let the sound or the vibration call you.':
    'Este navegador no mostró ninguna notificación. Agregue la página a la pantalla de inicio y ábrala desde ahí, o use el aviso con sonido o vibración.',
  // client/words/offline.ts
  'New version': 'Versión nueva',
  'A new version of Plateau is running. Load it when nothing is half entered.':
    'Hay una versión nueva de Plateau en marcha. Cárguela cuando no tenga datos a medio ingresar.',
  'Load it': 'Cargarla',
  // client/words/phones.ts
  'Join the visit': 'Entrar a la visita',
  'Plateau measures the heating or cooling of a ductless unit. This screen shows a visit once the computer that runs Plateau has let it in.':
    'Plateau mide la calefacción o el enfriamiento de una unidad mini-split. Esta pantalla muestra una visita cuando la computadora que ejecuta Plateau le da acceso.',
  'Ask there for a code: Record, then Phones.': 'Pida ahí un código: Registro, luego Teléfonos.',
  'Code, eight digits': 'Código, ocho dígitos',
  'The code': 'El código',
  'Your name, as the others see it': 'Su nombre, como lo ven los demás',
  Join: 'Entrar',
  'Joining …': 'Entrando …',
  'This is the computer that runs Plateau: it needs no code.':
    'Esta es la computadora que ejecuta Plateau: no necesita código.',
  'Go on without a code': 'Continuar sin código',
  'The code has eight digits. Enter all of them.':
    'El código tiene ocho dígitos. Ingréselos todos.',
  'The name is missing. Enter one, so that the others see who changes something.':
    'Falta el nombre. Ingrese uno, para que los demás vean quién cambia algo.',
  'This phone is not signed in any more: the visit has ended, or Plateau was started again. Ask at the computer for a new code.':
    'Este teléfono ya no tiene acceso: la visita terminó, o Plateau se inició de nuevo. Pida un código nuevo en la computadora.',
  Owner: 'Responsable',
  Viewer: 'Observador',
  Operator: 'Operador',
  Trainee: 'Participante',
  'You are a viewer: you see everything, and change nothing.':
    'Usted es observador: ve todo y no cambia nada.',
  You: 'Usted',
  'You are here as a viewer, {0}: you see everything, and change nothing.':
    'Usted está aquí como observador, {0}: ve todo y no cambia nada.',
  'You are here as an operator, {0}: the others see what you change.':
    'Usted está aquí como operador, {0}: los demás ven lo que cambia.',
  'You are here as a trainee, {0}: this visit is yours.':
    'Usted está aquí como participante, {0}: esta visita es suya.',
  'It ends with the visit.': 'Termina con la visita.',
  'Sign off': 'Cerrar sesión',
  'You have signed off. Ask at the computer for a new code to come back.':
    'Cerró su sesión. Para volver, pida un código nuevo en la computadora.',
  'Earlier visits can only be seen at the computer that runs Plateau.':
    'Las visitas anteriores solo se pueden ver en la computadora que ejecuta Plateau.',
  Phones: 'Teléfonos',
  'Others follow this visit on a phone or tablet in the same network. Scan or type the address, then enter a code. They are out when the visit ends.':
    'Otros siguen esta visita en un teléfono o tableta en la misma red. Escanee o escriba la dirección y luego ingrese un código. Quedan fuera cuando termina la visita.',
  'Plateau is open to this computer only. To let phones in, stop it (Ctrl+C), and start it with --lan:':
    'Plateau está abierto solo para esta computadora. Para dejar entrar teléfonos, deténgalo (Ctrl+C) e inícielo con --lan:',
  'The visit goes on where it was. Do it only in a network whose users you trust, never in a public one.':
    'La visita sigue donde estaba. Hágalo solo en una red con usuarios de confianza, nunca en una pública.',
  'Addresses: where one does not open, try the next':
    'Direcciones: si una no abre, pruebe la siguiente',
  'QR code with the address {0}': 'Código QR con la dirección {0}',
  'This computer is in no network. Connect it to the one that the phones are in.':
    'Esta computadora no está en ninguna red. Conéctela a la red de los teléfonos.',
  'Without a certificate, others in this network can read along. Use a network that you trust. The README says how to make a certificate.':
    'Sin certificado, otros en esta red pueden leer lo que se transmite. Use una red de confianza. El archivo README explica cómo crear un certificado.',
  'Let one in': 'Dejar entrar a alguien',
  'Code for a viewer': 'Código para observador',
  'Code for an operator': 'Código para operador',
  'A viewer sees everything and changes nothing. An operator does all that you do in this visit; only you begin another one, or let phones in.':
    'Un observador ve todo y no cambia nada. Un operador hace todo lo que usted hace en esta visita; solo usted puede empezar otra o dejar entrar teléfonos.',
  'That code is used or too old. Make another one.': 'Ese código ya se usó o venció. Cree otro.',
  'Let in': 'Con acceso',
  'No phone yet.': 'Aún no hay teléfonos.',
  Withdraw: 'Retirar',
  'Withdraw {0}': 'Retirar a {0}',
  'Withdraw {0}?': '¿Retirar a {0}?',
  'What that phone shows ends at once. To come back it needs a new code.':
    'Ese teléfono deja de mostrar la visita de inmediato. Para volver necesita un código nuevo.',
  'Phones in the same network can follow this visit.':
    'Los teléfonos en la misma red pueden seguir esta visita.',
  'For one viewer': 'Para un observador',
  'For one operator': 'Para un operador',
  'Good once, until {0} ({1} more).': 'Sirve una sola vez, hasta las {0} (quedan {1}).',
  '{0} since {1}, here now': '{0} desde las {1}, aquí ahora',
  '{0} since {1}, last heard at {2}': '{0} desde las {1}, última señal a las {2}',
  'The list of phones could not be read. It is tried again.':
    'No se pudo leer la lista de teléfonos. Se intenta de nuevo.',
  // client/words/trainee.ts
  'The class': 'La clase',
  'Class · {0} · simulated': 'Clase · {0} · simulada',
  Task: 'Tarea',
  'Your task': 'Su tarea',
  'Hide it': 'Ocultar',
  Decide: 'Decidir',
  'Your result': 'Su resultado',
  'The lesson has ended.': 'La lección terminó.',
  'The lesson has ended: look at everything, but nothing can be changed any more.':
    'La lección terminó: puede ver todo, pero ya no se puede cambiar nada.',
  'The class could not be read. It is tried again.':
    'No se pudo leer la clase. Se intenta de nuevo.',
  'This visit is yours and simulated. It is kept only while the class is open; nothing of it goes into a record.':
    'Esta visita es suya y es simulada. Se guarda solo mientras la clase está abierta; nada de ella pasa a un registro.',
  'Not begun yet: the air stands still.': 'Aún no empieza: el aire está detenido.',
  'The instructor has frozen the air.': 'El instructor puso el aire en pausa.',
  'Running in real time.': 'En marcha, en tiempo real.',
  'The air runs {0}× as fast.': 'El aire va a velocidad {0}×.',
  'What is the matter?': '¿Qué está pasando?',
  'Decide for one. You can change it until the lesson ends.':
    'Elija una respuesta. Puede cambiarla hasta que termine la lección.',
  'Nothing decided yet.': 'Aún no ha decidido nada.',
  'You decided, {0} into the lesson: {1}.': 'Usted decidió, tras {0} de lección: {1}.',
  'Decide for this': 'Elegir esta respuesta',
  'What you captured': 'Lo que usted capturó',
  'You captured nothing.': 'No capturó nada.',
  Yours: 'Lo suyo',
  'Truth inside your ±': 'Valor real dentro de su ±',
  'Airflow you measured last': 'El último caudal de aire que midió',
  'You measured no airflow.': 'No midió ningún caudal de aire.',
  'What you decided': 'Lo que usted decidió',
  'You decided nothing.': 'No decidió nada.',
  'Capture {0}': 'Captura {0}',
};
