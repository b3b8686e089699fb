package io.evenwarm.settings;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class TomlSectionTest {

    private final SettingsFaults faults = new SettingsFaults();

    private TomlSection parse(String text) {
        return TomlFile.parse("eggs.toml", text, faults).orElseThrow();
    }

    private List<String> errors() {
        return faults.errors().stream().map(SettingsFault::text).toList();
    }

    @Test
    void readsEachKindOfValue() {
        TomlSection top =
                parse(
                        "t = \"x\"\nn = 31.5\ni = 3\nw = 7\nf = true\nl = [\"a\", \"b\"]\n[s]\nk = 1\n");

        assertEquals(Optional.of("x"), top.text("t"));
        assertEquals(OptionalDouble.of(31.5), top.number("n", NumberRange.of(0, 50, "°C")));
        assertEquals(OptionalDouble.of(3), top.number("i", NumberRange.of(0, 50, "°C")));
        assertEquals(OptionalInt.of(7), top.whole("w", 0, 10, ""));
        assertTrue(top.flag("f", false));
        assertEquals(List.of("a", "b"), top.texts("l"));
        assertEquals(OptionalInt.of(1), top.section("s").orElseThrow().whole("k", 0, 9, ""));
        top.rejectUnknownKeys();
        assertEquals(List.of(), errors());
    }

    @Test
    void anAbsentKeyGivesTheDefaultAndNoFault() {
        TomlSection top = parse("");

        assertEquals(5.0, top.number("n", NumberRange.of(0, 10, "s"), 5.0));
        assertTrue(top.flag("f", true));
        assertEquals(List.of(), top.texts("l"));
        assertEquals(List.of(), top.sections("s"));
        assertFalse(faults.hasErrors());
    }

    @Test
    void everyFaultIsNamedInOnePassInTheOrderOfTheLines() {
        TomlSection top =
                parse(
                        """
                        name = 5
                        [[cabinet]]
                        name = "north"
                        set_point_celsius = "warm"
                        spead = 1
                        [[cabinet]]
                        size = 900.5
                        """);
        top.sections("cabinet")
                .forEach(
                        cabinet -> {
                            cabinet.requiredText("name", "a name");
                            cabinet.requiredNumber(
                                    "set_point_celsius", NumberRange.of(10, 45, "°C"));
                            cabinet.number("speed", NumberRange.of(0, 1, ""));
                            cabinet.number("size", NumberRange.above(0, 900, "litres"));
                        });
        top.text("name");
        top.rejectUnknownKeys();

        assertEquals(
                List.of(
                        "error: eggs.toml, line 1: name\n    found 5; allowed: a text in quotes",
                        "error: eggs.toml, line 4: cabinet \"north\" / set_point_celsius\n"
                                + "    found \"warm\"; allowed: a number from 10 to 45 °C",
                        "error: eggs.toml, line 5: cabinet \"north\" / spead\n"
                                + "    found an unknown key; allowed: speed (did you mean that?)",
                        "error: eggs.toml, line 6: cabinet number 2 / name\n"
                                + "    found nothing; allowed: a name",
                        "error: eggs.toml, line 6: cabinet number 2 / set_point_celsius\n"
                                + "    found nothing; allowed: a number from 10 to 45 °C",
                        "error: eggs.toml, line 7: cabinet number 2 / size\n"
                                + "    found 900.5; allowed: a number above 0 and up to 900 litres"),
                errors());
    }

    @Test
    void aNumberThatIsNoNumberIsOutsideEveryRange() {
        TomlSection top = parse("a = nan\nb = inf\nc = -inf\nd = 99999999999999999\n");

        assertTrue(top.number("a", NumberRange.of(-1e9, 1e9, "")).isEmpty());
        assertTrue(top.number("b", NumberRange.of(-1e9, 1e9, "")).isEmpty());
        assertTrue(top.number("c", NumberRange.of(-1e9, 1e9, "")).isEmpty());
        assertTrue(top.whole("d", 0, Integer.MAX_VALUE, "").isEmpty());
        assertEquals(4, faults.errors().size());
    }

    @Test
    void aWordWithASlipGetsASuggestion() {
        TomlSection top = parse("driver = \"one_wire\"\n");

        assertTrue(top.word("driver", List.of("one-wire", "hwmon")).isEmpty());
        assertEquals(
                "one of one-wire, hwmon (did you mean one-wire?)",
                faults.errors().get(0).allowed());
    }

    @Test
    void everySyntaxFaultCarriesItsLineAndTheTextThatStandsThere() {
        assertTrue(TomlFile.parse("eggs.toml", "a = 1\na = 2\nb = 31,5\n", faults).isEmpty());

        assertEquals(List.of(2, 3), faults.errors().stream().map(SettingsFault::line).toList());
        assertTrue(faults.errors().get(0).found().contains("a = 2"), faults.errors()::toString);
        assertTrue(faults.errors().get(1).found().contains("b = 31,5"), faults.errors()::toString);
    }

    @Test
    void aDottedKeyAndAnInlineTableAreSectionsToo() {
        TomlSection top =
                parse("link.tls.listen = \"x\"\nheater = { driver = \"led\", oops = 1 }\n");

        TomlSection tls = top.section("link").flatMap(link -> link.section("tls")).orElseThrow();
        assertEquals(Optional.of("x"), tls.text("listen"));
        assertEquals(Optional.of("led"), top.section("heater").orElseThrow().text("driver"));
        top.rejectUnknownKeys();
        assertEquals(
                List.of("heater / oops"),
                faults.errors().stream().map(SettingsFault::key).toList());
        assertEquals(2, faults.errors().get(0).line());
    }

    @Test
    void filesThatCannotBeSettingsAreNamedAsAWhole(@TempDir Path folder) throws IOException {
        Path absent = folder.resolve("absent.toml");
        Path binary = folder.resolve("binary.toml");
        Path large = folder.resolve("large.toml");
        Files.write(binary, new byte[] {(byte) 0xff, (byte) 0xfe, 0});
        Files.write(large, new byte[TomlFile.MAX_BYTES + 1]);

        for (Path file : List.of(absent, binary, large, folder)) {
            assertTrue(TomlFile.read(file, faults).isEmpty(), file::toString);
        }
        assertEquals(4, faults.errors().size());
        assertEquals(
                "error: "
                        + absent
                        + "\n    found no such file; allowed: the name of a TOML file that exists",
                faults.errors().stream()
                        .filter(fault -> fault.file().endsWith("absent.toml"))
                        .findFirst()
                        .orElseThrow()
                        .text());
    }

    @Test
    void aByteOrderMarkAndWindowsLineEndsAreHarmless() {
        TomlSection top = parse("\uFEFFa = 1\r\nb = 2\r\n");

        assertEquals(OptionalInt.of(1), top.whole("a", 0, 9, ""));
        assertEquals(OptionalInt.of(2), top.whole("b", 0, 9, ""));
        assertEquals(2, top.lineOf("b"));
    }

    @Test
    void neighbouringLettersSwappedAreOneSlip() {
        assertEquals(1, Suggestion.distance("haeter", "heater"));
        assertEquals(3, Suggestion.distance("kitten", "sitting"));
        assertEquals(Optional.empty(), Suggestion.nearest("zzz", List.of("heater", "fan")));
    }
}
