/**
 * Loads an adapter from outside: `--adapter NAME_OR_PATH[,key=value…]`, a package or an ES module
 * that exports `createAdapter(options)`. Whatever goes wrong becomes an adapter that is `unavailable`
 * and says why in one sentence: a plug-in never keeps the server from starting.
 */
import { stat } from 'node:fs/promises';
import { basename, extname, isAbsolute, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import * as z from 'zod';
import type { Adapter } from '../../adapters/contract.ts';
import { systemClock, within, type Clock } from './clock.ts';
import { asSentence, errorText } from './error-text.ts';
import { inScope, type Owner } from './scope.ts';

const LOAD_LIMIT_MS = 10_000;

/** What the command line asks for. */
export interface PlugInRequest {
  /** The name of an installed package, or the path of a module. */
  readonly source: string;
  /** Handed to `createAdapter` as they are: the values are texts. */
  readonly options: Readonly<Record<string, string>>;
}

type AnyFunction = (...given: unknown[]) => unknown;
const functionSchema = (name: string) =>
  z.custom<AnyFunction>((value) => typeof value === 'function', `${name} must be a function`);

const moduleSchema = z.looseObject({ createAdapter: functionSchema('createAdapter') });
const adapterSchema = z.looseObject(
  {
    name: z
      .string('name must be a text')
      .regex(/^[\w:.-]{1,40}$/, 'name must be 1 to 40 letters, digits, "-", "_", "." or ":"'),
    simulated: z.optional(z.boolean('simulated must be true or false')),
    start: functionSchema('start'),
    stop: functionSchema('stop'),
    event: z.optional(functionSchema('event')),
  },
  'it must be an object',
);

/**
 * Reads what follows `--adapter`.
 * @throws Error with a sentence for the command line.
 */
export function parsePlugIn(text: string): PlugInRequest {
  const [source = '', ...pairs] = text.split(',');
  if (source.trim() === '') {
    throw new Error('--adapter needs the name of a package or the path of a module.');
  }
  const options = new Map<string, string>();
  for (const pair of pairs) {
    const at = pair.indexOf('=');
    if (at < 1) throw new Error(`--adapter ${source}: "${pair}" must be of the form key=value.`);
    const key = pair.slice(0, at);
    if (options.has(key)) throw new Error(`--adapter ${source}: "${key}" is given twice.`);
    options.set(key, pair.slice(at + 1));
  }
  return { source, options: Object.fromEntries(options) };
}

/** An adapter that only says why it cannot be had. */
export function unavailableAdapter(name: string, sentence: string): Adapter {
  return {
    name,
    start: (host) => host.status('unavailable', sentence),
    stop: () => undefined,
  };
}

/**
 * Loads a plug-in and makes its adapter. Never rejects: what cannot be loaded becomes an
 * `unavailableAdapter`, named after the module.
 * @param cwd what a path is relative to. Packages are looked for where Plateau is installed.
 * @param owner is charged with what the module throws later on.
 */
export async function loadPlugIn(
  request: PlugInRequest,
  cwd: string,
  owner: Owner,
  clock: Clock = systemClock,
): Promise<Adapter> {
  try {
    return await inScope(owner, () => make(request, cwd, clock));
  } catch (error) {
    const sentence = `The adapter ${request.source} cannot be used: ${errorText(error)}`;
    return unavailableAdapter(basename(request.source, extname(request.source)), sentence);
  }
}

async function make(request: PlugInRequest, cwd: string, clock: Clock): Promise<Adapter> {
  const { source, options } = request;
  const exported = moduleSchema.safeParse(await importWithin(await locate(source, cwd), clock));
  if (!exported.success) throw new Error('the module exports no function createAdapter');
  const made = callIt(exported.data.createAdapter, options);
  assertAdapter(made);
  return made;
}

/** @returns what to import: a file's URL, or the name of a package. */
async function locate(source: string, cwd: string): Promise<string> {
  const path = resolve(cwd, source);
  const found = await stat(path).catch(() => null);
  const looksLikePath = source.startsWith('.') || isAbsolute(source);
  if (found?.isFile() === true) return pathToFileURL(path).href;
  if (!looksLikePath) return source;
  if (found === null) throw new Error(`there is no file ${path}`);
  throw new Error(`${path} is no file; name the module in it`);
}

async function importWithin(url: string, clock: Clock): Promise<unknown> {
  const loading: Promise<unknown> = import(/* @vite-ignore */ url);
  try {
    return await within(clock, LOAD_LIMIT_MS, loading, () => {
      throw new Error(`it had not loaded after ${LOAD_LIMIT_MS / 1000} s`);
    });
  } catch (error) {
    if (!isMissing(error, url)) throw error;
    throw new Error('there is no file and no installed package of that name', { cause: error });
  }
}

/** Whether it is the package itself that is missing, and not something that it imports. */
function isMissing(error: unknown, name: string): boolean {
  if (!(error instanceof Error) || !('code' in error)) return false;
  return (
    error.code === 'ERR_MODULE_NOT_FOUND' &&
    error.message.startsWith(`Cannot find package '${name}'`)
  );
}

function callIt(createAdapter: AnyFunction, options: PlugInRequest['options']): unknown {
  try {
    return createAdapter({ ...options });
  } catch (error) {
    throw new Error(`createAdapter failed: ${errorText(error)}`, { cause: error });
  }
}

function assertAdapter(made: unknown): asserts made is Adapter {
  const checked = adapterSchema.safeParse(made);
  if (checked.success) return;
  const faults = checked.error.issues.map(({ message }) => message).join('; ');
  throw new Error(asSentence(`what createAdapter returned is no adapter: ${faults}`));
}
