/** The page over a company's archive, loaded once its language is chosen. */
import { mount } from 'svelte';
import * as z from 'zod/mini';
import ArchiveApp from './ArchiveApp.svelte';

// The page's security policy allows no programs from text, which zod would otherwise try to make.
z.config({ jitless: true });

export const start = (target: HTMLElement): unknown => mount(ArchiveApp, { target });
