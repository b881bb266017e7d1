/** Class, in Spanish. */
import type { Catalog } from '../language.ts';

export const CLASS: Catalog = {};
