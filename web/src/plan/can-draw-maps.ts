let isAble: boolean | undefined;

/** Without WebGL there is no map. Asked once: every question costs a drawing context. */
export function canDrawMaps(): boolean {
  isAble ??= document.createElement('canvas').getContext('webgl2') !== null;
  return isAble;
}
