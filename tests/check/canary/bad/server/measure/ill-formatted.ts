/** Error: prettier would write it otherwise. */
export const  a = [ 1,2 ]
