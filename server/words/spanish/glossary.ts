/**
 * Words of the trade in Spanish, one for each: whoever translates keeps to them. The source is published
 * bilingual text; "review" where there is none yet and a technician has to look.
 */
export interface Term {
  term: string;
  spanish: string;
  source: string;
}

/** From memory of the document; compare before it is quoted. */
const EU_206 = 'Commission Regulation (EU) No 206/2012, Spanish and English texts (from memory)';
const GUM = 'JCGM 100:2008 and its Spanish translation (from memory)';

export const GLOSSARY: readonly Term[] = [
  { term: 'indoor unit', spanish: 'unidad interior', source: EU_206 },
  { term: 'outdoor unit', spanish: 'unidad exterior', source: EU_206 },
  { term: 'cooling', spanish: 'refrigeración', source: EU_206 },
  { term: 'heating', spanish: 'calefacción', source: EU_206 },
  { term: 'capacity', spanish: 'potencia', source: EU_206 },
  { term: 'airflow', spanish: 'caudal de aire', source: EU_206 },
  { term: 'dry bulb', spanish: 'bulbo seco', source: EU_206 },
  { term: 'wet bulb', spanish: 'bulbo húmedo', source: EU_206 },
  { term: 'standard uncertainty', spanish: 'incertidumbre típica', source: GUM },
  { term: 'coverage factor', spanish: 'factor de cobertura', source: GUM },
  { term: 'return', spanish: 'retorno', source: 'review' },
  { term: 'supply', spanish: 'impulsión', source: 'review' },
  { term: 'outlet', spanish: 'salida', source: 'review' },
  { term: 'intake', spanish: 'toma', source: 'review' },
  { term: 'louver', spanish: 'lama', source: 'review' },
  { term: 'coil', spanish: 'batería', source: 'review' },
  { term: 'blower wheel', spanish: 'turbina', source: 'review' },
  { term: 'probe', spanish: 'sonda', source: 'review' },
  { term: 'steady', spanish: 'estable', source: 'review' },
  { term: 'settling', spanish: 'estabilizándose', source: 'review' },
  { term: 'capture', spanish: 'captura', source: 'review' },
  { term: 'warning', spanish: 'advertencia', source: 'review' },
  { term: 'setpoint', spanish: 'consigna', source: 'review' },
  { term: 'side-by-side check', spanish: 'comprobación conjunta', source: 'review' },
  { term: 'sweep', spanish: 'barrido', source: 'review' },
  { term: 'dew point', spanish: 'punto de rocío', source: 'review' },
  { term: 'latent', spanish: 'latente', source: 'review' },
  { term: 'sensible', spanish: 'sensible', source: 'review' },
];
