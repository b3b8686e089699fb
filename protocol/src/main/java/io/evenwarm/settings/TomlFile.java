package io.evenwarm.settings;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import org.tomlj.Toml;
import org.tomlj.TomlParseError;
import org.tomlj.TomlParseResult;
import org.tomlj.TomlVersion;

/** Opens a TOML file. */
public final class TomlFile {

    /** No settings file comes near this; a wrong file (a picture, a journal) does. */
    static final int MAX_BYTES = 1 << 20;

    private TomlFile() {}

    /**
     * Reads and parses a file.
     *
     * @param file the file; faults name it as it is given here
     * @param faults gets what is wrong
     * @return the top of the file, or empty when it can't be read or is not TOML
     */
    public static Optional<TomlSection> read(Path file, SettingsFaults faults) {
        String name = file.toString();
        byte[] bytes;
        try {
            if (Files.isDirectory(file)) {
                faults.addAboutFile(name, "a folder", "the name of a TOML file");
                return Optional.empty();
            }
            if (Files.size(file) > MAX_BYTES) {
                faults.addAboutFile(
                        name, "a file of more than 1 MiB", "a settings file in TOML, up to 1 MiB");
                return Optional.empty();
            }
            bytes = Files.readAllBytes(file);
        } catch (NoSuchFileException e) {
            faults.addAboutFile(name, "no such file", "the name of a TOML file that exists");
            return Optional.empty();
        } catch (AccessDeniedException e) {
            faults.addAboutFile(
                    name,
                    "a file that this user may not read",
                    "a file that the user who runs this may read");
            return Optional.empty();
        } catch (IOException e) {
            faults.addAboutFile(
                    name, "a file that can't be read: " + e.getMessage(), "a readable file");
            return Optional.empty();
        }
        String text;
        try {
            text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
        } catch (CharacterCodingException e) {
            faults.addAboutFile(
                    name, "bytes that are not UTF-8 text", "a TOML file saved as UTF-8");
            return Optional.empty();
        }
        return parse(name, text, faults);
    }

    /**
     * Parses text.
     *
     * @param name how faults name the text
     * @param text TOML 1.0; a byte order mark at its start is passed over
     * @param faults gets what is wrong
     * @return the top of the text, or empty when it is not TOML
     */
    public static Optional<TomlSection> parse(String name, String text, SettingsFaults faults) {
        String body = text.startsWith("\uFEFF") ? text.substring(1) : text;
        TomlParseResult result = Toml.parse(body, TomlVersion.V1_0_0);
        if (result.hasErrors()) {
            String[] lines = body.split("\n", -1);
            for (TomlParseError error : result.errors()) {
                int line = error.position().line();
                String found =
                        line >= 1 && line <= lines.length ? lines[line - 1].strip() : "end of file";
                faults.add(
                        new SettingsFault(
                                SettingsFault.Severity.ERROR,
                                name,
                                line,
                                "",
                                TomlSection.shown(found) + " (" + error.getMessage() + ")",
                                "TOML, for example key = 31.5 or key = \"text\""));
            }
            return Optional.empty();
        }
        return Optional.of(new TomlSection(result, name, "", 1, faults));
    }
}
