/** All styles, in the order in which they overrule each other. */
import "@xyflow/react/dist/base.css";
import "./theme/tokens.css";
import "./theme/base.css";
import "./theme/layout.css";
import "./theme/panels.css";
import "./theme/overlays.css";
import "./theme/touch.css";
