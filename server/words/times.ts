/** How times and durations are written. Times are the server's; the browser's zone shows them. */
import { locale } from './language.ts';
import { t } from './language.ts';

const SECONDS = new Intl.DateTimeFormat(locale(), {
  hour: '2-digit',
  minute: '2-digit',
  second: '2-digit',
  hourCycle: 'h23',
});
const MINUTES = new Intl.DateTimeFormat(locale(), {
  hour: '2-digit',
  minute: '2-digit',
  hourCycle: 'h23',
});

/** "14:02:10" */
export const clockSeconds = (t: number): string => SECONDS.format(t);
/** "14:02" */
export const clockMinutes = (t: number): string => MINUTES.format(t);

/** A duration as a person says it: "8 s", "4 min", "1 h 20 min". */
export function duration(seconds: number): string {
  const whole = Math.max(0, Math.round(seconds));
  if (whole < 60) return `${whole}\u202fs`;
  const minutes = Math.round(whole / 60);
  if (minutes < 60) return t`${minutes}\u202fmin`;
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  return rest === 0 ? `${hours}\u202fh` : t`${hours}\u202fh ${rest}\u202fmin`;
}

/** A duration that is only roughly known: to 10 s below two minutes, then to the minute. */
export function roughDuration(seconds: number): string {
  return seconds < 120
    ? duration(Math.max(10, Math.ceil(seconds / 10) * 10))
    : duration(Math.ceil(seconds / 60) * 60);
}

/** Half a day, ms: of the two days on which a time of day can be, the nearer one is meant. */
const HALF_DAY_MS = 12 * 3_600_000;

/**
 * The moment nearest to another at which a clock shows a time: "14:02:10", or "14:02".
 * @param t ms since the epoch
 * @returns ms since the epoch, null where the text is no time of day
 */
export function timeOnDayOf(t: number, text: string): number | null {
  const [, hours, minutes, seconds = '0'] = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(text) ?? [];
  if (hours === undefined || minutes === undefined) return null;
  const [h, m, s] = [Number(hours), Number(minutes), Number(seconds)];
  if (h > 23 || m > 59 || s > 59) return null;
  const at = new Date(t).setHours(h, m, s, 0);
  if (at - t > HALF_DAY_MS) return new Date(at).setDate(new Date(at).getDate() - 1);
  if (t - at > HALF_DAY_MS) return new Date(at).setDate(new Date(at).getDate() + 1);
  return at;
}
