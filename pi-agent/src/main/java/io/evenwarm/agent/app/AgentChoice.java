package io.evenwarm.agent.app;

import io.evenwarm.settings.SettingsFaults;
import io.evenwarm.settings.TomlFile;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Path;
import java.util.Optional;
import picocli.CommandLine.Option;

/** Which of this machine's agents a command means: the one of a state folder. */
final class AgentChoice {

    @Option(
            names = "--config",
            paramLabel = "FILE",
            description = "the agent's configuration, which names its state folder")
    private Optional<Path> config = Optional.empty();

    @Option(
            names = "--state",
            paramLabel = "DIR",
            description =
                    "its state folder; " + ConfigurationReader.USUAL_STATE_FOLDER + " if not said")
    private Optional<Path> state = Optional.empty();

    /**
     * The state folder. A configuration that got faults since the agent's start is read as far as
     * need be: a person must be able to reset or silence all the same.
     */
    Path stateFolder() {
        if (state.isPresent()) {
            return state.get();
        }
        return config.flatMap(AgentChoice::stateFolderIn)
                .orElse(Path.of(ConfigurationReader.USUAL_STATE_FOLDER));
    }

    /** Where the agent answers on this machine. */
    Path socket() {
        return StateFolder.socketIn(stateFolder());
    }

    /** Why the choice can't be meant so; empty when it can. */
    Optional<String> fault() {
        if (config.isPresent() && state.isPresent()) {
            return Optional.of("--config and --state both name the agent: give one of them");
        }
        SettingsFaults faults = new SettingsFaults();
        return config.isPresent() && TomlFile.read(config.get(), faults).isEmpty()
                ? Optional.of(faults.errors().get(0).text())
                : Optional.empty();
    }

    private static Optional<Path> stateFolderIn(Path file) {
        Optional<TomlSection> agent =
                TomlFile.read(file, new SettingsFaults()).flatMap(top -> top.section("agent"));
        return agent.flatMap(
                section ->
                        section.parsed(
                                "state_folder",
                                "a folder's path",
                                text ->
                                        ConfigurationReader.resolve(
                                                ConfigurationReader.folderOf(file), text)));
    }
}
