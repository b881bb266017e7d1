export * from '../../server/words/events.ts';
