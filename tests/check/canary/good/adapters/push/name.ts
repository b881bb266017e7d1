export const NAME = 'push';
