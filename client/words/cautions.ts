/** What to mind before climbing up, measuring, or opening anything: the usual cautions of the trade. */
import { t } from '../../server/words/language.ts';

export const CAUTIONS_TITLE = t`Before you climb up: cautions`;

export const CAUTIONS = [
  t`Set the ladder on firm ground. Do not lean out to reach a probe: move the ladder. Climb with both hands free; the phone stays in your pocket, and a screen in the room calls you.`,
  t`The blower wheel turns behind the louver and starts without warning. Keep fingers, probes and leads out of it. Louvers move when power comes back. Coil fins are sharp: wear gloves.`,
  t`Covers hide live parts. Leave them closed, or lock the unit out and verify that the power is off first. A clamp meter in an open panel is for qualified people only.`,
  t`An attic in summer is hot enough to harm you. Keep it short, drink water, and tell someone that you are up there.`,
  t`Refrigerant is under pressure and may burn. Plateau needs no work on its circuit; that work takes a license.`,
  t`The manufacturer’s instructions, local codes and licensed practice come before anything on this page.`,
];

/** While an airflow is measured. */
export const AT_THE_LOUVER = t`The wheel turns while you measure: nothing past the louver, no lanyard, no loose sleeve. Louvers move when power returns, and fins are sharp. Power off before any part comes off. No phone in the hand while you climb.`;
