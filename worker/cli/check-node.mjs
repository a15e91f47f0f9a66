// Says in one line what is wrong when the Node that runs is too old for the scripts (they are TypeScript, run as it is).
const [major, minor] = process.versions.node.split('.').map(Number);
const isNewEnough = major > 22 || (major === 22 && minor >= 18);
if (!isNewEnough) {
  process.stderr.write(
    `Node ${process.versions.node} found, 22.18 or newer expected: run "npm ci" on Linux (it brings Node 24), or install a newer Node\n`,
  );
  process.exit(1);
}
