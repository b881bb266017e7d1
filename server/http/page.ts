/** What every server here serves the same way: the built page, its security headers, the list of calls. */
import helmet from '@fastify/helmet';
import staticFiles from '@fastify/static';
import swagger from '@fastify/swagger';
import type { FastifyInstance } from 'fastify';
import { jsonSchemaTransform } from 'fastify-type-provider-zod';
import { existsSync } from 'node:fs';

export async function securityHeaders(app: FastifyInstance): Promise<void> {
  await app.register(helmet, {
    // Everything comes from here, and over plain HTTP on a local network: no upgrade to TLS.
    strictTransportSecurity: false,
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        workerSrc: ["'self'"],
        manifestSrc: ["'self'"],
        objectSrc: ["'none'"],
        baseUri: ["'none'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
      },
    },
  });
}

/** The list of calls as OpenAPI; to be registered before them. @param about what they are for */
export async function documentation(
  app: FastifyInstance,
  about: string,
  version: string,
): Promise<void> {
  await app.register(swagger, {
    openapi: {
      info: { title: 'Plateau', version, description: `${about} SI units, in the field names.` },
    },
    transform: jsonSchemaTransform,
  });
}

/** The files of the built page, where there is one. */
export async function pageFiles(app: FastifyInstance, clientDir: string): Promise<void> {
  if (!existsSync(clientDir)) return;
  await app.register(staticFiles, {
    root: clientDir,
    cacheControl: false,
    // As the build has compressed it, where the browser takes that.
    preCompressed: true,
    setHeaders: (reply, path) => {
      const hashed = /[\\/]assets[\\/]/.test(path);
      reply.header('cache-control', hashed ? 'public, max-age=31536000, immutable' : 'no-store');
    },
  });
}
