/** What is said where the server, or a new version of the page, is concerned. */

export const NEW_VERSION = {
  label: 'New version',
  text: 'A new version of Plateau is running. Load it when nothing is half entered.',
  reload: 'Load it',
};
