export * from '../../server/words/language.ts';
