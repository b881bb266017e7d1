/** Notices, in Spanish. */
import type { Catalog } from '../language.ts';

export const NOTICES: Catalog = {
  // client/words/cautions.ts
  'Before you climb up: cautions': 'Antes de subir: precauciones',
  'Set the ladder on firm ground. Do not lean out to reach a probe: move the ladder. Climb with both hands free; the phone stays in your pocket, and a screen in the room calls you.':
    'Apoye la escalera en piso firme. No se estire para alcanzar una sonda: mueva la escalera. Suba con las dos manos libres; el teléfono va en el bolsillo, y una pantalla en el cuarto le avisa.',
  'The blower wheel turns behind the louver and starts without warning. Keep fingers, probes and leads out of it. Louvers move when power comes back. Coil fins are sharp: wear gloves.':
    'La turbina del ventilador gira detrás de la persiana y arranca sin aviso. No meta ahí los dedos, las sondas ni los cables. Las persianas se mueven cuando vuelve la corriente. Las aletas del serpentín cortan: use guantes.',
  'Covers hide live parts. Leave them closed, or lock the unit out and verify that the power is off first. A clamp meter in an open panel is for qualified people only.':
    'Las tapas cubren partes energizadas. Déjelas cerradas, o antes bloquee la alimentación de la unidad y verifique que no haya tensión. Medir con pinza amperimétrica en un tablero abierto es solo para personal calificado.',
  'An attic in summer is hot enough to harm you. Keep it short, drink water, and tell someone that you are up there.':
    'Un ático en verano se calienta tanto que puede hacerle daño. Quédese poco tiempo, tome agua y avise a alguien que está allá arriba.',
  'Refrigerant is under pressure and may burn. Plateau needs no work on its circuit; that work takes a license.':
    'El refrigerante está a presión y puede arder. Plateau no necesita ningún trabajo en su circuito; ese trabajo exige licencia.',
  'The manufacturer’s instructions, local codes and licensed practice come before anything on this page.':
    'Las instrucciones del fabricante, los códigos locales y la práctica de técnicos con licencia van antes que todo lo que dice esta página.',
  'The wheel turns while you measure: nothing past the louver, no lanyard, no loose sleeve. Louvers move when power returns, and fins are sharp. Power off before any part comes off. No phone in the hand while you climb.':
    'La turbina gira mientras usted mide: no pase nada más allá de la persiana, sin cordón al cuello ni mangas sueltas. Las persianas se mueven cuando vuelve la corriente, y las aletas cortan. Corte la corriente antes de quitar cualquier pieza. No suba con el teléfono en la mano.',
  // client/words/language-choice.ts
  Language: 'Idioma',
  'For this screen and its reports. The page loads anew: save what you have entered first.':
    'Para esta pantalla y sus informes. La página se carga de nuevo: guarde antes lo que haya ingresado.',
  // client/words/not-recorded.ts
  'What the server says': 'Lo que dice el servidor',
  'Recording again.': 'Se registra de nuevo.',
  'the disk is full': 'el disco está lleno',
  'Free some space on this computer’s disk.': 'Libere espacio en el disco de esta computadora.',
  'its folder is gone or cannot be opened': 'la carpeta ya no está o no se puede abrir',
  'Put the folder back, or plug its drive in again.':
    'Devuelva la carpeta a su lugar o conecte de nuevo su disco.',
  'its folder is read-only': 'la carpeta es de solo lectura',
  'Allow this program to write there: check the folder’s permissions.':
    'Permita que este programa escriba ahí: revise los permisos de la carpeta.',
  'the disk reports a fault': 'el disco reporta una falla',
  'Check the drive. If the fault stays, start Plateau with another folder (--data).':
    'Revise el disco. Si la falla sigue, inicie Plateau con otra carpeta (--data).',
  'the server cannot write to its folder': 'el servidor no puede escribir en su carpeta',
  'Check the folder. The server says below what is wrong.':
    'Revise la carpeta. Abajo, el servidor dice qué pasa.',
  'Not recording: {0}.': 'No se registra: {0}.',
  'Memory is full too: Plateau refuses new readings, they are lost, and the figures stop. What is in memory is lost if Plateau or this computer stops.':
    'La memoria también está llena: Plateau rechaza las lecturas nuevas, que se pierden, y las cifras se detienen. Lo que está en la memoria se pierde si se detiene Plateau o esta computadora.',
  'The figures go on. New readings stay in memory for about an hour and are lost if Plateau or this computer stops.':
    'Las cifras siguen. Las lecturas nuevas quedan en la memoria cerca de una hora y se pierden si se detiene Plateau o esta computadora.',
  '{0} Then Plateau writes all of it.': '{0} Después Plateau lo escribe todo.',
  // client/words/notice-form.ts
  Notices: 'Avisos',
  'The screen may go dark.': 'La pantalla puede apagarse.',
  'When a unit becomes steady': 'Cuando una unidad queda estable',
  'Plateau calls you then, and again when it is no longer steady: at most once a minute for each unit.':
    'Plateau le avisa en ese momento, y otra vez cuando deja de estar estable: a lo sumo una vez por minuto por cada unidad.',
  'Sound: three tones that rise, two that fall': 'Sonido: tres tonos que suben, dos que bajan',
  'This browser blocks sound until you touch the page. Touch “Try it”.':
    'Este navegador bloquea el sonido hasta que usted toque la página. Toque “Probar”.',
  'Vibration, where the device has it': 'Vibración, si el dispositivo la tiene',
  'This browser does not let a page vibrate the device.':
    'Este navegador no deja que una página haga vibrar el dispositivo.',
  'Browser notification, over other windows': 'Notificación del navegador, sobre otras ventanas',
  'Spoken words: what has happened, and the figure': 'Voz: lo que pasó, y la cifra',
  'This browser cannot speak.': 'Este navegador no puede hablar.',
  'The figure as large as this screen': 'La cifra tan grande como esta pantalla',
  'Each screen has its own settings: let the laptop in the room call while your phone is in your pocket.':
    'Cada pantalla tiene su propia configuración: deje que avise la computadora del cuarto mientras usted lleva el teléfono en el bolsillo.',
  'Keep the screen awake during the visit': 'Mantener la pantalla encendida durante la visita',
  'It stays awake while this page is in front.':
    'Sigue encendida mientras esta página está al frente.',
  'Try it': 'Probar',
  // client/words/notice-trouble.ts
  'The browser keeps the screen awake only for pages over https, or on the computer that runs the server. Set a longer time until the screen goes dark in the settings of this device.':
    'El navegador mantiene la pantalla encendida solo en páginas por https o en la computadora que ejecuta el servidor. En la configuración de este dispositivo, ponga más tiempo hasta que se apague la pantalla.',
  'This browser cannot keep the screen awake. Set a longer time until the screen goes dark in the settings of this device.':
    'Este navegador no puede mantener la pantalla encendida. En la configuración de este dispositivo, ponga más tiempo hasta que se apague la pantalla.',
  'The device did not allow it, perhaps to save its battery. Connect it to power and come back to this page, or set a longer time until the screen goes dark in its settings.':
    'El dispositivo no lo permitió, quizá para ahorrar batería. Conéctelo a la corriente y vuelva a esta página, o ponga en su configuración más tiempo hasta que se apague la pantalla.',
  'The browser does not show notifications of this page. Allow them in its settings for this site, then switch this on again.':
    'El navegador no muestra las notificaciones de esta página. Permítalas en la configuración del navegador para este sitio y luego active esto de nuevo.',
  'This is how it calls you': 'Así le avisa',
  'Nothing has happened.': 'No ha pasado nada.',
  // client/words/notice.ts
  '{0} is steady': '{0} ya está estable',
  '{0} is cycling: capture its mean': '{0} está en ciclos: capture su promedio',
  '{0} over {1} {2}.': '{0} en {1} {2}.',
  '{0} is no longer steady': '{0} ya no está estable',
  '{0} {1}, now {2}.': '{0} {1}, ahora {2}.',
  sound: 'sonido',
  'sound (touch the page once first)': 'sonido (toque antes la página una vez)',
  vibration: 'vibración',
  notification: 'notificación',
  'spoken words': 'voz',
  'large figure': 'cifra grande',
  'Does not call you when steady.': 'No le avisa cuando queda estable.',
  'Calls you when steady: {0}.': 'Le avisa cuando queda estable: {0}.',
  ' plus or minus ': ' más o menos ',
  ' kilowatts': ' kilovatios',
  ' B T U per hour': ' B T U por hora',
  'minus ': 'menos ',
};
