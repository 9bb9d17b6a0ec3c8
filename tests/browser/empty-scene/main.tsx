/** The least a react-three-fiber page can be: what the app's first heat map is measured against. */
import { Canvas, useFrame } from '@react-three/fiber';
import { createRoot } from 'react-dom/client';

let drawn = false;

function FirstFrame() {
  useFrame(({ gl, scene, camera }) => {
    gl.render(scene, camera);
    if (!drawn) {
      drawn = true;
      performance.mark('empty:frame');
      document.documentElement.dataset.frame = 'ready';
    }
  }, 1);
  return null;
}

const root = document.getElementById('root');
if (root) {
  createRoot(root).render(
    <Canvas frameloop="demand">
      <FirstFrame />
    </Canvas>,
  );
}
