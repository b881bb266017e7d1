/** Error: the text is no number. */
export const totalW: number = 'two kilowatts';
