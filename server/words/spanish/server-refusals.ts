/** Server refusals, in Spanish. */
import type { Catalog } from '../language.ts';

export const SERVER_REFUSALS: Catalog = {
  // server/session/capture-pair.ts
  'photo: "{0}" is not on this capture': '',
  'photo: this photo is on this capture already: nothing was added': '',
  'photo: it would be one too many: a capture has at most {0} photos; take one off first': '',
  'from: no capture of "{0}" by {1} begins at {2}{3}: name one as it was told (the newest {4} of a unit can be struck or remarked on)':
    '',
  ' and ends at {0}': '',
  // server/session/photos.ts
  'id: the photo "{0}" is there already': '',
  'part: {0} of {1} does not follow: the pieces of a photo come one after another, from 0 on': '',
  'photo: it would be one too many: a visit has at most {0} photos, those included that were taken off a capture; begin another visit for more':
    '',
  // server/session/probe.ts
  't: {0}: the probe "{1}" has sent a reading of that time already': '',
  // server/session/room.ts
  'unit: "{0}" would be one too many: a visit has at most {1} units; begin another visit for more':
    '',
  'probe: "{0}" would be one too many: {1} probes are told of that have sent nothing yet; forget some of them, or begin another visit':
    '',
  'probe: "{0}" would be one too many: a visit has at most {1} probes; forget some of them, or begin another visit':
    '',
  // server/session/told-events.ts
  'event: there is no event "{0}" in this visit (its newest {1} can be amended)': '',
  'text: is missing, and so is toT; give the new name, the new time or both': '',
  'toT: an event of the kind {0} is not dated anew, it happened when it was told; it may be named':
    '',
  'toT: {0} lies in the future of this visit; the latest is {1}': '',
  'toT: {0} is more than an hour from {1}, where the event is; move it by less': '',
  // server/session/unit.ts
  'unit: "{0}" cycles, {1}': '',
  'unit: "{0}" is not steady: there is no mean yet that could be written down; wait until it is called steady, or cycling':
    '',
  // server/session.ts
  'probe: "{0}" is a live probe of the source "{1}"; give yours another id': '',
  'id: "{0}" would be one too many: a visit has at most {1} outdoor units': '',
  'probe: "{0}" lies in a side-by-side check: end the check, then forget it': '',
  'probe: "{0}" is being walked along a place: end the walk, then forget it': '',
  'probe: "{0}" traverses an outlet: end the traverse, then forget it': '',
  'text: is missing, and so is photo: give the note, the id of a photo, or both': '',
  'photo: "{0}" is not in this visit, or pieces of it are missing: send it again': '',
  'from: is missing: name a capture by from and by, or an airflow by airflowT': '',
  // server/photo/photos.ts
  'This picture takes too long to be read: take another one, or make it smaller. Nothing was added.':
    '',
  'This picture could not be read: take another one, or make it smaller. Nothing was added.': '',
  // server/photo/reencode.ts
  'This is no picture that can be read: send a JPEG or a PNG that is whole. Nothing was added.': '',
  'This picture has {0} × {1} pixels, too many to be taken: make it smaller than {2} million. Nothing was added.':
    '',
  // server/http/access/book.ts
  'The visit has ended. Ask at the computer for a new code.': '',
  'The class has ended.': '',
  'The instructor has taken you out of the class.': '',
  // server/http/access/routes.ts
  'code: it is not one that can be used; each works once, for ten minutes. Ask for another at the computer.':
    '',
  'There is no room for one more phone: withdraw one at the computer first.': '',
  'You were signed off at the computer. Ask there for a new code.': '',
  'You have signed off.': '',
  'Start Plateau with --lan to let phones in: no code was made.': '',
  'Too many wrong codes: wait {0} seconds, then try again.': '',
  'phone: there is no "{0}" that is let in': '',
  // server/http/access/who.ts
  'Only the computer that runs Plateau may use it. Start it there with --lan to let phones in.': '',
  'This needs a code: ask at the computer that runs Plateau, and enter it on the first page.': '',
  'You are let in to look, not to change anything: ask for an operator code at the computer.': '',
  'In a class this is the instructor’s: nothing was changed.': '',
  'This can only be done at the computer that runs Plateau.': '',
  // server/http/answers.ts
  'Too many calls in a minute: wait {0} seconds, then go on.': '',
  // server/http/app.ts
  'The class has ended, and your visit with it.': '',
  // server/http/class.ts
  'id: "{0}" is a lesson that is built in: choose another id': '',
  'trainee: there is no "{0}" in this class': '',
  'lesson: there is no "{0}"': '',
  'probe: in a class the probes are those of the lesson; nothing of this was taken': '',
  'You are in no class: join one with its code.': '',
  // server/http/errors.ts
  'The body is too large: at most {0} MiB of readings, {1} MiB of a picture (64 KiB elsewhere) are taken at once. Send less.':
    '',
  'This content type is not taken: send application/x-ndjson (readings, one a line) or application/json; of a picture image/jpeg or image/png.':
    '',
  'The body is empty: send a JSON object.': '',
  'The body is not JSON: check for a missing quote or bracket.': '',
  'is not accepted': '',
  'The server failed at this call; its own output says more. Try again.': '',
  'There is nothing at {0} {1}: /api/docs lists the calls.': '',
  // server/http/keys.ts
  'a key has {0} hexadecimal digits (0 to 9, a to f)': '',
  'key: is not a text: {0}': '',
  'key: holds other characters than digits: {0}': '',
  'key: has {0} digits: {1}': '',
  // server/http/photos.ts
  'photo: nothing is recorded here that could hold it': '',
  'Too many pictures are waiting to be taken: nothing of this was. Send it again soon.': '',
  'The body is empty: send a picture, a JPEG or a PNG.': '',
  'photo: there is no "{0}" in this record': '',
  'photo: pieces of "{0}" are missing or were changed; a backup may hold it': '',
  // server/http/replay.ts
  'Nothing is being replayed here: start Plateau with --replay FILE to play a visit log.': '',
  'This is a replay of a visit log: it cannot be altered, and nothing of this was taken. To measure, start Plateau without --replay.':
    '',
  'The body says nothing: give speed, paused or toT': '',
  // server/http/reports.ts
  'Too many reports are waiting to be made. Ask again soon.': '',
  'visit: there is no visit "{0}" in this record; a quick look is recorded once it is kept': '',
  // server/http/setup.ts
  't: {0} lies in the future of this visit; leave it out for now': '',
  '{0}: there is no {1} "{2}" in this visit': '',
  // server/http/simulation.ts
  'Nothing is simulated here: take the probe in your own hand.': '',
  'probe: there is no simulated probe "{0}" in this demo': '',
  // server/http/visits.ts
  'Earlier visits can be seen at the computer that runs Plateau: phones are let into this visit only.':
    '',
  'visit: nothing is recorded here, so there is no other visit': '',
  'visit: there is no visit "{0}" in this record': '',
  // server/visit.ts
  'Another visit is being opened: send it again in a moment.': '',
  // server/class/classroom.ts
  'A class is open: close it before you begin another lesson.': '',
  'size: {0} is outside {1} to {2}': '',
  'kind: "{0}" is there from the start of a lesson or not at all': '',
  'kind: "{0}" does not occur in {1}': '',
  'There is no class: open one first.': '',
  'The lesson has ended: close the class, and begin another.': '',
};
