package io.evenwarm.monitor.app;

import java.nio.file.Path;
import java.util.Optional;

/**
 * Where the phone page is served.
 *
 * @param host name or address to listen at
 * @param port 0 for any free one
 * @param certificate files of a certificate and its key; empty: one that this monitor makes itself
 */
record PageSettings(String host, int port, Optional<CertificateFiles> certificate) {

    /**
     * Two files in PEM.
     *
     * @param certificates the server's own first
     * @param key without a password
     */
    record CertificateFiles(Path certificates, Path key) {}
}
