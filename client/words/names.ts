export * from '../../server/words/names.ts';
