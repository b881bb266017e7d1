import { mount } from 'svelte';
import { snapshotSchema } from '../server/protocol.ts';
import App from './App.svelte';

mount(App, {
  target: document.body,
  props: { snapshot: snapshotSchema.parse({ totalW: 1 }) },
});
