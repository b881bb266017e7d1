import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  root: here('.'),
  plugins: [svelte({ configFile: here('./svelte.config.js') })],
  build: {
    outDir: here('../build/client'),
    emptyOutDir: true,
    // The security policy allows no data: URLs; every asset is a file.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
