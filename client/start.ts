/** The page itself, loaded once its language is chosen. */
import { mount } from 'svelte';
import App from './App.svelte';

export const start = (target: HTMLElement): unknown => mount(App, { target });
