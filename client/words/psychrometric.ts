export * from '../../server/words/psychrometric.ts';
