package io.evenwarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Rules about files rather than classes; they hold for all modules and are checked in this one. */
final class RepositoryRulesTest {

    private static final Path ROOT = Path.of("..").toAbsolutePath().normalize();
    private static final List<String> MODULES = List.of("protocol", "pi-agent", "host-monitor");

    /** A reader should find nothing at the top that is not one of these. */
    private static final Set<String> TOP_LEVEL =
            Set.of(
                    "README.md",
                    "DEVELOPERS.md",
                    "LICENSE",
                    "pom.xml",
                    "host-monitor",
                    "pi-agent",
                    "protocol",
                    "hardware-notes",
                    "docs");

    /** Beyond this a class does more than one thing. */
    private static final int LINES_MAX = 450;

    @Test
    void theTopLevelHoldsOnlyWhatTheReadmeExplains() throws IOException {
        Set<String> others = new TreeSet<>();
        try (Stream<Path> entries = Files.list(ROOT)) {
            entries.map(entry -> entry.getFileName().toString())
                    .filter(name -> !name.startsWith(".") && !name.equals("target"))
                    .filter(name -> !TOP_LEVEL.contains(name))
                    .forEach(others::add);
        }
        assertEquals(Set.of(), others);
    }

    @Test
    void everyPackageSaysWhatItIsFor() throws IOException {
        List<Path> silent = new ArrayList<>();
        for (Path source : mainSources()) {
            Path packageInfo = source.resolveSibling("package-info.java");
            if (!Files.exists(packageInfo)
                    || !Files.readString(packageInfo).contains("@NullMarked")) {
                silent.add(source);
            }
        }
        assertEquals(List.of(), silent);
    }

    @Test
    void noClassGrowsBeyondWhatAReaderCanHold() throws IOException {
        List<Path> sources = mainSources();
        assertTrue(sources.size() >= 60, "only " + sources.size() + " sources were found");
        List<String> tooLong = new ArrayList<>();
        for (Path source : sources) {
            int lines = Files.readAllLines(source).size();
            if (lines > LINES_MAX) {
                tooLong.add(ROOT.relativize(source) + ": " + lines + " lines");
            }
        }
        assertEquals(List.of(), tooLong);
    }

    @Test
    void everyLinkBetweenDocumentsLeadsSomewhere() throws IOException {
        Pattern link = Pattern.compile("\\]\\((?!https?:|#|mailto:)([^)#\\s]+)(#[^)]*)?\\)");
        List<String> broken = new ArrayList<>();
        int seen = 0;
        for (Path document : documents()) {
            Matcher matcher = link.matcher(Files.readString(document));
            while (matcher.find()) {
                seen++;
                if (!Files.exists(document.resolveSibling(matcher.group(1)))) {
                    broken.add(ROOT.relativize(document) + " -> " + matcher.group(1));
                }
            }
        }
        assertTrue(seen > 0, "no link was found at all");
        assertEquals(List.of(), broken);
    }

    private static List<Path> mainSources() throws IOException {
        List<Path> sources = new ArrayList<>();
        for (String module : MODULES) {
            try (Stream<Path> files = Files.walk(ROOT.resolve(module).resolve("src/main/java"))) {
                files.filter(file -> file.toString().endsWith(".java")).forEach(sources::add);
            }
        }
        return sources;
    }

    private static List<Path> documents() throws IOException {
        List<Path> documents =
                new ArrayList<>(List.of(ROOT.resolve("README.md"), ROOT.resolve("DEVELOPERS.md")));
        for (String folder : List.of("docs", "hardware-notes")) {
            if (Files.isDirectory(ROOT.resolve(folder))) {
                try (Stream<Path> files = Files.walk(ROOT.resolve(folder))) {
                    files.filter(file -> file.toString().endsWith(".md")).forEach(documents::add);
                }
            }
        }
        return documents;
    }
}
