export * from '../../server/words/times.ts';
