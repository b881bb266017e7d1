/**
 * Parts of the Bluetooth library that it does not show, and that are there only where it speaks to the
 * adapter itself (Linux). Where they are not, or are not as expected, there is nothing.
 */
import type { EventEmitter } from 'node:events';

/** What an object has under a name; null where that is no object. */
export function inner(object: unknown, name: string): object | null {
  if (typeof object !== 'object' || object === null) return null;
  const value: unknown = Reflect.get(object, name);
  return typeof value === 'object' && value !== null ? value : null;
}

/** The library's own have an emitter's methods, and some are none by their class. */
export function isEmitter(object: object): object is EventEmitter {
  return ['on', 'off'].every((name) => typeof Reflect.get(object, name) === 'function');
}
