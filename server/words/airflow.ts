/** Where an airflow comes from, in words. */
import { FAN_TABLE } from '../measure/capacity.ts';

const SOURCES: Record<string, string> = {
  entered: 'entered by hand',
  [FAN_TABLE]: 'from the fan table',
  measured: 'measured at this unit',
  sweep: 'from a sweep traverse',
  grid: 'from a grid traverse',
  condensate: 'from weighed condensate',
  heat: 'by a metered heater',
};

/** Where an airflow comes from: "from the fan table". */
export const sourceWords = (source: string): string => SOURCES[source] ?? source;
