export * from '../../server/words/scales.ts';
