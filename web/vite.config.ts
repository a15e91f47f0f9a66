/** Builds the page into web/dist, which the Worker serves; `vite` alone serves it with the API proxied. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';

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

/** Tells the service worker which files this build is made of, and gives the build a name that changes with them. */
function pageFiles(): Plugin {
  return {
    name: 'page-files',
    enforce: 'post',
    generateBundle(_options, bundle) {
      const worker = bundle[SERVICE_WORKER];
      if (worker?.type !== 'chunk') return;
      const built = Object.keys(bundle).filter(
        (name) => ![SERVICE_WORKER, 'index.html', demoLegsPath].includes(name),
      );
      const files = [...built, ...readdirSync(folder('public'))].sort().map((name) => `/${name}`);
      const hash = createHash('sha256').update(JSON.stringify(files));
      for (const name of readdirSync(folder('public')).sort())
        hash.update(readFileSync(folder(`public/${name}`)));
      hash.update(readFileSync(folder('index.html')));
      worker.code = worker.code
        .replaceAll('PAGE_FILES', JSON.stringify(files))
        .replaceAll('BUILD_NAME', JSON.stringify(hash.digest('hex').slice(0, 12)));
    },
  };
}

export default defineConfig({
  root: folder('.'),
  plugins: [demoLegs(), pageFiles()],
  json: { stringify: true },
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    chunkSizeWarningLimit: 1200,
    rolldownOptions: {
      // The contract only makes schemas: a page carries the files of it alone that it uses.
      treeshake: { moduleSideEffects: [{ test: /\/worker\/schema\//, sideEffects: false }] },
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
