/** Without WebGL there is no map, and none is offered. */
export function canDrawMaps(): boolean {
  return document.createElement('canvas').getContext('webgl2') !== null;
}
