using Secondpass.App;

return Application.Run(args);
