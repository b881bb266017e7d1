import { svelte } from '@sveltejs/vite-plugin-svelte';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { defineConfig, type HtmlTagDescriptor, type Plugin } from 'vite';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** What is text; the typefaces are compressed already. */
const TEXTS = new Set(['.html', '.js', '.css', '.svg']);

/** Makes the service worker: its program, and before it what it has to hold of this build. */
function offline(): Plugin {
  let folder = '';
  return {
    name: 'offline',
    apply: 'build',
    configResolved: ({ build }) => void (folder = build.outDir),
    closeBundle() {
      const files = readdirSync(join(folder, 'assets'))
        .toSorted()
        .map((name) => `/assets/${name}`);
      // The names of the assets hold hashes of what is in them; those of the page do not.
      const version = createHash('sha256')
        .update(JSON.stringify(files))
        .update(readFileSync(join(folder, 'index.html')))
        .digest('hex')
        .slice(0, 16);
      const program = readFileSync(here('./offline/worker.js'), 'utf8');
      const built = JSON.stringify({ version, files });
      writeFileSync(join(folder, 'sw.js'), `self.BUILT = ${built};\n${program}`);
    },
  };
}

/** Compresses once what the server would send again and again. */
function compressed(): Plugin {
  let folder = '';
  return {
    name: 'compressed',
    configResolved: ({ build }) => void (folder = build.outDir),
    closeBundle() {
      for (const entry of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
        if (!TEXTS.has(extname(entry))) continue;
        const path = join(folder, entry);
        const text = readFileSync(path);
        writeFileSync(`${path}.br`, brotliCompressSync(text));
        writeFileSync(`${path}.gz`, gzipSync(text, { level: 9 }));
      }
    },
  };
}

/**
 * The page comes along with the program that chooses its language: without a second trip to the server,
 * and, in another language, beside the texts of that.
 */
function together(): Plugin {
  const link = (rel: string, file: string): HtmlTagDescriptor => ({
    ...{ tag: 'link', attrs: { rel, href: `/${file}`, crossorigin: '' } },
    injectTo: 'head',
  });
  return {
    name: 'together',
    transformIndexHtml: {
      order: 'post',
      handler: (html, { bundle = {} }) => {
        const chunks = Object.values(bundle).filter((part) => part.type === 'chunk');
        const page = chunks.find(({ moduleIds }) => moduleIds.includes(here('./start.ts')));
        if (page === undefined) return [];
        const parts = [page.fileName, ...page.imports].filter((file) => !html.includes(file));
        const styles = [...(page.viteMetadata?.importedCss ?? [])];
        return [
          ...parts.map((file) => link('modulepreload', file)),
          ...styles.map((file) => link('stylesheet', file)),
        ];
      },
    },
  };
}

export default defineConfig({
  root: here('.'),
  plugins: [
    svelte({ configFile: here('./svelte.config.js') }),
    together(),
    offline(),
    compressed(),
  ],
  build: {
    outDir: here('../build/client'),
    emptyOutDir: true,
    // The security policy allows no data: URLs; every asset is a file.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
