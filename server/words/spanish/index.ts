/** All that page and report say, in Spanish: files by area, in the order of their sources. */
import type { Catalog } from '../language.ts';
import { ADAPTERS } from './adapters.ts';
import { ARCHIVE } from './archive.ts';
import { AIRFLOW } from './airflow.ts';
import { CAPTURES } from './captures.ts';
import { CHECKS } from './checks.ts';
import { CLASS } from './class.ts';
import { FIGURE } from './figure.ts';
import { FRAME } from './frame.ts';
import { LESSONS } from './lessons.ts';
import { NOTICES } from './notices.ts';
import { OUTLETS } from './outlets.ts';
import { PROBES } from './probes.ts';
import { RECORD } from './record.ts';
import { REPORT } from './report.ts';
import { SERVER_AIRFLOW } from './server-airflow.ts';
import { SERVER_ARCHIVE } from './server-archive.ts';
import { SERVER_CHECKS } from './server-checks.ts';
import { SERVER_DOUBTS } from './server-doubts.ts';
import { SERVER_REFUSALS } from './server-refusals.ts';
import { SERVER_SITUATIONS } from './server-situations.ts';
import { SERVER_SOURCES } from './server-sources.ts';
import { SHARED } from './shared.ts';
import { VERDICT } from './verdict.ts';

/** What the server and its adapters send as English sentences. */
export const SENT: Catalog = {
  ...SERVER_DOUBTS,
  ...SERVER_SITUATIONS,
  ...SERVER_AIRFLOW,
  ...SERVER_CHECKS,
  ...LESSONS,
  ...SERVER_REFUSALS,
  ...SERVER_SOURCES,
  ...SERVER_ARCHIVE,
  ...ADAPTERS,
};

/** Every text. */
export const SPANISH: Catalog = {
  ...SENT,
  ...PROBES,
  ...CHECKS,
  ...AIRFLOW,
  ...OUTLETS,
  ...FIGURE,
  ...CAPTURES,
  ...VERDICT,
  ...CLASS,
  ...RECORD,
  ...ARCHIVE,
  ...NOTICES,
  ...FRAME,
  ...SHARED,
  ...REPORT,
};
