/** How times and durations are written. Times are the server's; the browser's zone shows them. */

const SECONDS = new Intl.DateTimeFormat('en-GB', {
  hour: '2-digit',
  minute: '2-digit',
  second: '2-digit',
});
const MINUTES = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' });

/** "14:02:10" */
export const clockSeconds = (t: number): string => SECONDS.format(t);
/** "14:02" */
export const clockMinutes = (t: number): string => MINUTES.format(t);

/** A duration as a person says it: "8 s", "4 min", "1 h 20 min". */
export function duration(seconds: number): string {
  const whole = Math.max(0, Math.round(seconds));
  if (whole < 60) return `${whole}\u202fs`;
  const minutes = Math.round(whole / 60);
  if (minutes < 60) return `${minutes}\u202fmin`;
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  return rest === 0 ? `${hours}\u202fh` : `${hours}\u202fh ${rest}\u202fmin`;
}

/** A duration that is only roughly known: to 10 s below two minutes, then to the minute. */
export function roughDuration(seconds: number): string {
  return seconds < 120
    ? duration(Math.max(10, Math.ceil(seconds / 10) * 10))
    : duration(Math.ceil(seconds / 60) * 60);
}
