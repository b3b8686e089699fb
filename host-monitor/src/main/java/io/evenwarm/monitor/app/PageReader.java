package io.evenwarm.monitor.app;

import io.evenwarm.monitor.app.PageSettings.CertificateFiles;
import io.evenwarm.settings.HostAndPort;
import io.evenwarm.settings.TomlSection;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/** Reads {@code [page]}. */
final class PageReader {

    private static final String LISTEN_FORM =
            "\"address:port\", for example \"0.0.0.0:8443\" for all of this machine's addresses";
    private static final String FILE_FORM = "a file in PEM";
    private static final String ADDRESS_FORM =
            "\"https://host:port\" as a phone types it, for example \"https://192.168.1.10:8443\"";

    private PageReader() {}

    /**
     * @param folder at which paths begin that are not absolute
     */
    static Optional<PageSettings> read(TomlSection section, Path folder) {
        Optional<HostAndPort> listen =
                section.requiredParsed("listen", LISTEN_FORM, HostAndPort::parse);
        Optional<Path> certificates = file(section, "certificate_file", folder);
        Optional<Path> key = file(section, "key_file", folder);
        if (section.has("certificate_file") != section.has("key_file")) {
            section.fault(
                    section.has("key_file") ? "certificate_file" : "key_file",
                    "both certificate_file and key_file, or neither");
        }
        Optional<String> address = section.parsed("address", ADDRESS_FORM, PageReader::address);
        return listen.map(
                there ->
                        new PageSettings(
                                there.host(),
                                there.port(),
                                address,
                                certificates.flatMap(
                                        own -> key.map(its -> new CertificateFiles(own, its)))));
    }

    /** Without a path: the page has its own. */
    private static String address(String text) {
        URI address = URI.create(text);
        boolean isPlain =
                "https".equals(address.getScheme())
                        && address.getHost() != null
                        && address.getUserInfo() == null
                        && address.getQuery() == null
                        && address.getFragment() == null
                        && Optional.ofNullable(address.getPath()).orElse("").matches("/?");
        if (!isPlain) {
            throw new IllegalArgumentException(text);
        }
        return text.endsWith("/") ? text.substring(0, text.length() - 1) : text;
    }

    private static Optional<Path> file(TomlSection section, String key, Path folder) {
        Optional<Path> file = section.parsed(key, FILE_FORM, folder::resolve);
        if (file.isPresent() && !Files.isReadable(file.get())) {
            section.faultWithFound(key, file.get() + ", which can't be read", FILE_FORM);
        }
        return file;
    }
}
