/** Builds the page into web/dist, which the Worker serves; `vite` alone serves it with the API proxied. */
import { existsSync, readFileSync } from 'node:fs';
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

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  plugins: [demoLegs()],
  json: { stringify: true },
  build: { outDir: 'dist', emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 1200 },
  worker: { format: 'es' },
  server: { proxy: { '/api': 'http://localhost:8787' } },
});
