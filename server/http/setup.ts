/** The calls that set up a visit and tell what happened: units, placing, airflow, events. */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import type { EventLine, Line } from '../../adapters/contract.ts';
import { isAboutEarlier } from '../session/told-events.ts';
import type { LiveVisit } from '../visit.ts';
import { answers, badRequest, notFound } from './answers.ts';
import type { StageOf } from './stage.ts';
import {
  airflowSchema,
  eventSchema,
  expectationSchema,
  idSchema,
  limitsSchema,
  outletSchema,
  probeSchema,
  systemSchema,
  timeSchema,
  unitSchema,
  visitSchema,
} from '../visit-log/schema.ts';
import { sent } from '../words/sent.ts';

/** An event may be dated ahead of the visit's time by as much as clocks differ, ms. */
const AHEAD_MS = 5000;
/** Brought by a person, not by a source. */
const PERSON = { adapter: null, simulated: false };

const unitParams = z.object({ unit: idSchema });
const outletParams = z.object({ outlet: idSchema });
const systemParams = z.object({ system: idSchema });
const probeParams = z.object({ probe: idSchema });
const atTime = { t: timeSchema.optional().describe('ms since the epoch; default: now') };
const given = { type: true, id: true } as const;
const [setpoint, fan, note, check, walk, capture, amend, strike, , remark, ...ofAirflow] =
  eventSchema.options;
const [traverse, condensate, heat, zero, baseline] = ofAirflow;
const eventBody = z.discriminatedUnion('kind', [
  setpoint.omit(given).extend(atTime),
  fan.omit(given).extend(atTime),
  note.omit(given).extend(atTime),
  check.omit(given).extend(atTime),
  walk.omit(given).extend(atTime),
  capture.omit(given).extend(atTime),
  amend.omit(given).extend(atTime),
  strike.omit(given).extend(atTime),
  remark.omit(given).extend(atTime),
  traverse.omit(given).extend(atTime),
  condensate.omit(given).extend(atTime),
  heat.omit(given).extend(atTime),
  zero.omit(given).extend(atTime),
  baseline.omit(given).extend(atTime),
]);

export function setupRoutes(plain: FastifyInstance, stageOf: StageOf): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();

  app.put(
    '/api/visit',
    {
      schema: {
        summary:
          'Sets title, mode, pressure or altitude of the visit, its test for steady, and when it captures by itself',
        body: visitSchema.omit({ type: true, version: true, t: true, simulated: true }),
        response: answers,
      },
    },
    async (request) => {
      const { body } = request;
      const { visit } = stageOf(request);
      return put(visit, { type: 'visit', version: 1, ...now(visit), ...body });
    },
  );

  app.put(
    '/api/units/:unit',
    {
      schema: {
        summary:
          'Makes an indoor unit, or changes its name, airflow, fan speeds, fan table, whether its coil is wet, how uneven its air is, or what power its outdoor unit takes',
        params: unitParams,
        body: unitSchema.omit({ type: true, id: true, t: true }),
        response: answers,
      },
    },
    async (request) => {
      const { params, body } = request;
      const { visit } = stageOf(request);
      return put(visit, { type: 'unit', id: params.unit, ...now(visit), ...body });
    },
  );

  app.put(
    '/api/units/:unit/airflow',
    {
      schema: {
        summary: 'Replaces the airflow of a unit from now on',
        params: unitParams,
        body: airflowSchema,
        response: answers,
      },
    },
    async (request) => {
      const { params, body } = request;
      const { visit } = stageOf(request);
      need(visit, 'unit', params.unit);
      // Before the first reading it is part of the set-up: a recorded series brings its own time.
      if (!visit.begun) return put(visit, { type: 'unit', id: params.unit, airflow: body });
      return put(visit, {
        type: 'airflow',
        t: visit.eventTime(),
        unit: params.unit,
        airflow: body,
      });
    },
  );

  app.put(
    '/api/outlets/:outlet',
    {
      schema: {
        summary:
          'Makes an opening at which the airflow of a unit is measured, or changes its sections, free-area factor or louver',
        params: outletParams,
        body: outletSchema.omit({ type: true, id: true, t: true }),
        response: answers,
      },
    },
    async (request) => {
      const { params, body } = request;
      const { visit } = stageOf(request);
      need(visit, 'unit', body.unit);
      return put(visit, { type: 'outlet', id: params.outlet, ...now(visit), ...body });
    },
  );

  app.put(
    '/api/units/:unit/expectation',
    {
      schema: {
        summary: 'Says what a unit should deliver in one mode; without a point that is taken back',
        params: unitParams,
        body: expectationSchema.omit({ type: true, unit: true, t: true }),
        response: answers,
      },
    },
    async (request) => {
      const { params, body } = request;
      const { visit } = stageOf(request);
      need(visit, 'unit', params.unit);
      return put(visit, { type: 'expectation', unit: params.unit, ...now(visit), ...body });
    },
  );

  app.put(
    '/api/systems/:system',
    {
      schema: {
        summary:
          'Names an outdoor unit, or gives its model, serial, the length and height of its lines, its heads and what it gives to all of them',
        params: systemParams,
        body: systemSchema.omit({ type: true, id: true, t: true }),
        response: answers,
      },
    },
    async (request) => {
      const { params, body } = request;
      const { visit } = stageOf(request);
      return put(visit, { type: 'system', id: params.system, ...now(visit), ...body });
    },
  );

  app.put(
    '/api/probes/:probe',
    {
      schema: {
        summary: 'Names a probe, places it at a unit (null takes it away), or gives its limits',
        params: probeParams,
        body: probeSchema
          .omit({ type: true, id: true, t: true, forgotten: true })
          .extend({ limits: limitsSchema.optional() }),
        response: answers,
      },
    },
    async (request) => {
      const { params, body } = request;
      const { visit } = stageOf(request);
      if (typeof body.unit === 'string') need(visit, 'unit', body.unit);
      return put(visit, { type: 'probe', id: params.probe, ...now(visit), ...body });
    },
  );

  app.delete(
    '/api/probes/:probe',
    {
      schema: {
        summary:
          'Forgets a probe: its name, place, limits and check; heard again, it is a new one, unplaced',
        params: probeParams,
        response: answers,
      },
    },
    async (request) => {
      const { params } = request;
      const { visit, forgot } = stageOf(request);
      need(visit, 'probe', params.probe);
      const done = put(visit, { type: 'probe', id: params.probe, ...now(visit), forgotten: true });
      forgot(params.probe);
      return done;
    },
  );

  app.post(
    '/api/events',
    {
      schema: {
        summary:
          'Tells what was done (a setpoint, a fan speed, a note, a side-by-side check, a walk along an outlet; a ' +
          'traverse, weighed condensate, a metered heater, a zero in place), captures the ' +
          'mean so far, names or dates an earlier event anew, strikes a capture out, or says something of it ' +
          '(`text`: a note; `photo` with `off`: takes a photo off it), or marks a capture or an airflow as ' +
          'the baseline of later visits',
        body: eventBody,
        response: { 200: eventSchema, 400: answers[400], 404: answers[404] },
      },
    },
    async (request) => {
      const { body } = request;
      const { visit, told } = stageOf(request);
      if ('unit' in body && body.unit !== undefined) need(visit, 'unit', body.unit);
      if (body.kind === 'walk') need(visit, 'probe', body.probe);
      if (body.kind === 'check') for (const id of body.probes) need(visit, 'probe', id);
      if (body.t !== undefined && body.t > visit.time() + AHEAD_MS) {
        throw badRequest(sent`t: ${body.t} lies in the future of this visit; leave it out for now`);
      }
      const event: EventLine = { ...body, type: 'event', t: body.t ?? visit.eventTime() };
      put(visit, event);
      if (isAboutEarlier(event)) return event;
      event.id = visit.lastEventId ?? undefined;
      told(event);
      return event;
    },
  );
}

/** What a person tells while readings come has a time; before, nothing has. */
const now = (visit: LiveVisit): { t?: number } => (visit.begun ? { t: visit.eventTime() } : {});

function put(visit: LiveVisit, line: Line): { ok: true } {
  const refusal = visit.line(line, PERSON);
  if (refusal !== null) throw badRequest(refusal);
  return { ok: true };
}

function need(visit: LiveVisit, kind: 'unit' | 'probe', id: string): void {
  if (visit.has(kind, id)) return;
  throw notFound(sent`${kind}: there is no ${kind} "${id}" in this visit`);
}
