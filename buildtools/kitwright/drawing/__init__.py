"""Pictures: one device-independent scene, three pens (png, svg, pdf), and what each diagram shows."""
