/** Builds the page into web/dist, which the Worker serves; `vite` alone serves it with the API proxied. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build, defineConfig, type Plugin } from 'vite';

const demoLegsFile = fileURLToPath(new URL('../sample-soundings/legs.json', import.meta.url));
const demoLegsPath = 'demo-legs.json';

/** The demo's legs live beside its data; the page gets a copy. Without the file the page says that there are none. */
function demoLegs(): Plugin {
  return {
    name: 'demo-legs',
    generateBundle() {
      if (!existsSync(demoLegsFile)) return;
      this.emitFile({ type: 'asset', fileName: demoLegsPath, source: readFileSync(demoLegsFile) });
    },
    configureServer(server) {
      server.middlewares.use(`/${demoLegsPath}`, (_request, response, next) => {
        if (!existsSync(demoLegsFile)) return next();
        response.setHeader('content-type', 'application/json');
        response.end(readFileSync(demoLegsFile));
      });
    },
  };
}

const folder = (path: string) => fileURLToPath(new URL(path, import.meta.url));
const SERVICE_WORKER = 'service-worker.js';
/** The service worker keeps these under the addresses that people open them by. */
const PAGES = ['index.html', 'board.html'];

const TARGET = 'es2022';
const JSON_AS_TEXT = { stringify: true };

/**
 * The board's page is bundled by itself: with chunks in common the main page would carry at first what the board alone uses of its
 * libraries.
 */
function boardPage(): Plugin {
  return {
    name: 'board-page',
    apply: 'build',
    async generateBundle() {
      const result = await build({
        configFile: false,
        root: folder('.'),
        publicDir: false,
        json: JSON_AS_TEXT,
        logLevel: 'warn',
        build: {
          write: false,
          target: TARGET,
          rolldownOptions: {
            input: { board: folder('board.html') },
            output: {
              entryFileNames: 'assets/[name]-[hash].js',
              chunkFileNames: 'assets/board-[name]-[hash].js',
            },
          },
        },
      });
      if (!('output' in result)) throw new Error('board page: found no single bundle, expected one');
      for (const file of result.output)
        this.emitFile({
          type: 'asset',
          fileName: file.fileName,
          source: file.type === 'chunk' ? file.code : file.source,
        });
    },
  };
}

/** Tells the service worker which files this build is made of, and gives the build a name that changes with them. */
function pageFiles(): Plugin {
  return {
    name: 'page-files',
    enforce: 'post',
    generateBundle(_options, bundle) {
      const worker = bundle[SERVICE_WORKER];
      if (worker?.type !== 'chunk') return;
      const built = Object.keys(bundle).filter(
        (name) => ![SERVICE_WORKER, ...PAGES, demoLegsPath].includes(name),
      );
      const files = [...built, ...readdirSync(folder('public'))].sort().map((name) => `/${name}`);
      const hash = createHash('sha256').update(JSON.stringify(files));
      for (const name of readdirSync(folder('public')).sort())
        hash.update(readFileSync(folder(`public/${name}`)));
      for (const page of PAGES) hash.update(readFileSync(folder(page)));
      worker.code = worker.code
        .replaceAll('PAGE_FILES', JSON.stringify(files))
        .replaceAll('BUILD_NAME', JSON.stringify(hash.digest('hex').slice(0, 12)));
    },
  };
}

/** Names, in the page, the scripts that pages of shared briefs need beside the rest: the service has them sent for early there. */
function sharedView(): Plugin {
  const entry = folder('src/share/shared-view.tsx');
  return {
    name: 'shared-view',
    transformIndexHtml: {
      order: 'post',
      handler(html, { bundle }) {
        const chunk = Object.values(bundle ?? {}).find(
          (each) => each.type === 'chunk' && each.facadeModuleId === entry,
        );
        if (chunk?.type !== 'chunk') return [];
        const names = [chunk.fileName, ...chunk.imports].filter((name) => !html.includes(name));
        // Without their ending they are no scripts that this page loads.
        const content = names.map((name) => name.replace(/\.js$/, '')).join(' ');
        return [{ tag: 'meta', attrs: { name: 'shared-view', content }, injectTo: 'head' }];
      },
    },
  };
}

export default defineConfig({
  root: folder('.'),
  plugins: [demoLegs(), boardPage(), pageFiles(), sharedView()],
  json: JSON_AS_TEXT,
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: TARGET,
    chunkSizeWarningLimit: 1200,
    rolldownOptions: {
      input: { index: folder('index.html'), 'service-worker': folder('offline/service-worker.ts') },
      output: {
        entryFileNames: ({ name }) =>
          name === 'service-worker' ? SERVICE_WORKER : 'assets/[name]-[hash].js',
      },
    },
  },
  worker: { format: 'es' },
  server: { proxy: { '/api': 'http://localhost:8787' } },
});
