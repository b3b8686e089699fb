package io.evenwarm.monitor.app;

import java.nio.file.Path;
import java.util.Optional;

/**
 * Where the phone page is served.
 *
 * @param host name or address to listen at
 * @param port 0 for any free one
 * @param address {@code https://host:port} at which phones reach it; empty: notices hold no links
 * @param certificate files of a certificate and its key; empty: one that this monitor makes itself
 */
record PageSettings(
        String host, int port, Optional<String> address, Optional<CertificateFiles> certificate) {

    /**
     * Two files in PEM.
     *
     * @param certificates the server's own first
     * @param key without a password
     */
    record CertificateFiles(Path certificates, Path key) {}
}
