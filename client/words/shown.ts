export * from '../../server/words/shown.ts';
