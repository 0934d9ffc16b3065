// What hull.html takes of three.js, and nothing else.
export {
  BufferAttribute, BufferGeometry, Color, DirectionalLight, DoubleSide, FrontSide, Group, HemisphereLight, Line,
  LineBasicMaterial, Mesh, MeshStandardMaterial, PerspectiveCamera, Raycaster, Scene, SRGBColorSpace, Texture, Vector2,
  Vector3, WebGLRenderer,
} from "three";
export { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
