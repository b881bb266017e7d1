import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import 'uplot/dist/uPlot.min.css';
import './look/tokens.css';
import './look/base.css';
import { mount } from 'svelte';
import App from './App.svelte';
import { registerWorker } from './offline/register.ts';

const target = document.getElementById('page');
if (target === null) throw new Error('The page has no element with the id "page".');
mount(App, { target });
registerWorker();
