/** Beside the map, never on it, where they would cover names. */
export function ZoomButtons({ zoomBy }: { readonly zoomBy: (levels: number) => void }) {
  return (
    <>
      <button type="button" aria-label="Zoom out" onClick={() => zoomBy(-1)}>
        −
      </button>
      <button type="button" aria-label="Zoom in" onClick={() => zoomBy(1)}>
        +
      </button>
    </>
  );
}
