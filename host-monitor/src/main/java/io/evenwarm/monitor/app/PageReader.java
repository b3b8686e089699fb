package io.evenwarm.monitor.app;

import io.evenwarm.monitor.app.PageSettings.CertificateFiles;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Reads {@code [page]}. */
final class PageReader {

    private static final Pattern LISTEN =
            Pattern.compile("(?:\\[([0-9A-Fa-f:.]+)]|([A-Za-z0-9.-]+)):(\\d{1,5})");
    private static final String LISTEN_FORM =
            "\"address:port\", for example \"0.0.0.0:8443\" for all of this machine's addresses";
    private static final String FILE_FORM = "a file in PEM";

    private PageReader() {}

    /**
     * @param folder at which paths begin that are not absolute
     */
    static Optional<PageSettings> read(TomlSection section, Path folder) {
        Optional<Matcher> listen =
                section.requiredParsed("listen", LISTEN_FORM, PageReader::listen);
        Optional<Path> certificates = file(section, "certificate_file", folder);
        Optional<Path> key = file(section, "key_file", folder);
        if (section.has("certificate_file") != section.has("key_file")) {
            section.fault(
                    section.has("key_file") ? "certificate_file" : "key_file",
                    "both certificate_file and key_file, or neither");
        }
        return listen.map(
                there ->
                        new PageSettings(
                                there.group(1) == null ? there.group(2) : there.group(1),
                                Integer.parseInt(there.group(3)),
                                certificates.flatMap(
                                        own -> key.map(its -> new CertificateFiles(own, its)))));
    }

    private static Matcher listen(String text) {
        Matcher matcher = LISTEN.matcher(text);
        if (!matcher.matches() || Integer.parseInt(matcher.group(3)) > 65_535) {
            throw new IllegalArgumentException(text);
        }
        return matcher;
    }

    private static Optional<Path> file(TomlSection section, String key, Path folder) {
        Optional<Path> file = section.parsed(key, FILE_FORM, folder::resolve);
        if (file.isPresent() && !Files.isReadable(file.get())) {
            section.faultWithFound(key, file.get() + ", which can't be read", FILE_FORM);
        }
        return file;
    }
}
