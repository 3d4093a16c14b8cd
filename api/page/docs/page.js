SwaggerUIBundle({
  url: "../openapi.json",
  dom_id: "#document",
  deepLinking: true,
  tryItOutEnabled: true,
  displayRequestDuration: true,
  defaultModelsExpandDepth: 0,
  docExpansion: "list",
});
