export * from '../../server/words/figures.ts';
