/** Errors: what nobody has checked is called a number, by a cast and by `any`. */
export const a = JSON.parse('1') as number;
export const b: number = JSON.parse('1');
export const c = (value: any): string => value.text;
