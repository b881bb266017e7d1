/** Whether the Bluetooth library is installed. */
export const hasRadioLibrary: boolean;
